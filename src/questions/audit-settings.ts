import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { changedSettings } from "../ingest/changed-settings.ts";
import type { Settings } from "../workspace/workspace.ts";

/** Kinds of record that are to be read anew by the settings of now, and what is to be said of it. */
export type ChangedSettings = { records: Set<string>; warnings: string[] };

/** Whether settings have changed since the exports were read. Those that can't be read keep nobody from the rest of the answer. */
export async function auditedSettings(connection: DuckDBConnection, settings: Settings): Promise<ChangedSettings> {
  try {
    const changed = await changedSettings(connection, settings);
    return {
      records: new Set(changed.map(({ pipeline }) => pipeline.record)),
      warnings: changed.length === 0 ? [] : [changedWords(changed.map(({ name }) => name))],
    };
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    return { records: new Set(), warnings: [error.message] };
  }
}

function changedWords(names: string[]): string {
  return `the exports of ${names.join(", ")} were read before the pipeline, or the fleets, slots, rules, corrections or aliases that go with it, changed; every answer is as of then until "framelife ingest" reads them anew`;
}
