import { resolve } from "node:path";
import type { DuckDBConnection } from "@duckdb/node-api";
import type { Command } from "commander";
import { UserError } from "../errors.ts";
import type { OpenPlainTable } from "../lives/plain-table.ts";
import type { Source } from "../questions/scope.ts";
import { checkedSettings } from "../workspace/checked-settings.ts";
import { findWorkspace, nearestWorkspace } from "../workspace/find-workspace.ts";
import type { Settings, Workspace } from "../workspace/workspace.ts";
import { type QuestionOptions, refuseForTable } from "./question-options.ts";
import type { Surroundings } from "./surroundings.ts";

/** The folder that `--workspace` names, or the nearest workspace at or above where the command was given. */
function folderOf(around: Surroundings, command: Command): string {
  const { folder } = namedFolder(command);
  if (folder !== undefined) return resolve(around.folder, folder);
  return findWorkspace(around.folder);
}

/** The folder as `--workspace` names it, if it does. */
export function namedFolder(command: Command): { folder?: string } {
  const { workspace } = command.optsWithGlobals<{ workspace?: string }>();
  return workspace === undefined ? {} : { folder: workspace };
}

/** The workspace with its pipelines, for commands that read exports. */
export async function workspaceOf(around: Surroundings, command: Command): Promise<Workspace> {
  const { readWorkspace } = await import("../workspace/workspace.ts");
  return readWorkspace(folderOf(around, command));
}

/** The configuration alone, for commands that ask the store. */
export function settingsOf(around: Surroundings, command: Command): Promise<Settings> {
  return checkedSettings(folderOf(around, command));
}

/** The configuration of the workspace that was named, or of the nearest one; null where none was named and there is none. */
export async function settingsIfAny(around: Surroundings, command: Command): Promise<Settings | null> {
  if (namedFolder(command).folder !== undefined) return settingsOf(around, command);
  const folder = nearestWorkspace(around.folder);
  return folder === null ? null : checkedSettings(folder);
}

/**
 * Opens what a question is asked of, runs `ask`, and closes it again, whatever happens.
 * `study` makes the question's table from a plain table; a workspace's lives are derived at the as-of date.
 */
export async function withRecords<Result>(
  around: Surroundings,
  command: Command,
  options: QuestionOptions,
  study: {
    plain: (table: OpenPlainTable) => Promise<void>;
    steps: (clock: "hours" | "days") => string[];
    /** Whether the question is asked of installations. */
    installations: boolean;
    /** Whether it is asked of units too. */
    units?: boolean;
    /** Whether it is asked of builds too. */
    built?: boolean;
  },
  ask: (connection: DuckDBConnection, source: Source, clock: "hours" | "days") => Promise<Result>,
): Promise<Result> {
  refuseForTable(options);
  if (options.from !== undefined) {
    const { openPlainTable } = await import("../lives/plain-table.ts");
    const table = await openPlainTable(around.folder, options.from, around);
    try {
      await study.plain(table);
      return await ask(
        table.connection,
        { kind: "table", table: { path: options.from, columns: options.columns ?? {} } },
        "hours",
      );
    } finally {
      table.close();
    }
  }
  const workspace = await settingsOf(around, command);
  checkNames(workspace, options);
  const { openStore } = await import("../store/open-store.ts");
  const { runStep } = await import("../store/run-step.ts");
  const { readyLives } = await import("../lives/kept-lives.ts");
  const store = await openStore(workspace.storePath, "read", around);
  try {
    const { configuration } = workspace;
    const clock = options.clock ?? configuration.clock;
    const { asOf, latestOn } = await readyLives(store.connection, {
      configuration,
      installations: study.installations,
      units: study.units ?? false,
      built: study.built ?? false,
      ...(options.asOf === undefined ? {} : { asOf: options.asOf }),
    });
    for (const step of study.steps(clock)) await runStep(store.connection, step);
    const source: Source = { kind: "workspace", configuration, asOf, latestOn, ...namedFolder(command) };
    return await ask(store.connection, source, clock);
  } finally {
    store.close();
  }
}

function checkNames({ configuration, file }: Settings, { fleet, slot }: QuestionOptions): void {
  const fleets = configuration.fleets.map(({ name }) => name);
  if (fleet !== undefined && !fleets.includes(fleet)) {
    throw new UserError(`Cannot answer for fleet "${fleet}": ${file} names ${fleets.join(", ")}`, 2);
  }
  const slots = Object.keys(configuration.slots);
  if (slot !== undefined && !slots.includes(slot)) {
    throw new UserError(`Cannot answer for slot "${slot}": ${file} names ${slots.join(", ")}`, 2);
  }
}
