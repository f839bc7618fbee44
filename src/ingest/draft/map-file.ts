import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { UserError } from "../../errors.ts";
import type { EngineUse } from "../../store/engine.ts";
import { withEngine } from "../export/engine.ts";
import type { RecordKind } from "../mapping/canonical-fields.ts";
import { checkDraft } from "./check-draft.ts";
import { type ExportFile, ExportKinds } from "./draft-exports.ts";
import type { FleetContext } from "./guess-fleet.ts";
import { type MapAnswer, mapAnswer } from "./map-answer.ts";
import { SLOT_TITLES } from "./words/slot-words.ts";
import { writeDraft } from "./write-draft.ts";

export type MapRequest = {
  file: ExportFile;
  name: string;
  fleet: FleetContext;
  /** Slots of the workspace that it is for. */
  slots?: string[];
  record?: RecordKind;
  engine?: EngineUse;
};

/**
 * Drafts a pipeline for one export; reads it, and writes nothing.
 * @throws UserError if the file can't be read, holds several kinds of tables, or one that is not known
 */
export async function mapFile({ file, engine, ...request }: MapRequest): Promise<MapAnswer> {
  return withExports(async (exports) => {
    await exports.add([file]);
    const [kind, ...others] = exports.kinds;
    if (kind === undefined)
      throw new UserError(
        `Cannot draft a pipeline for ${file.shownPath}: ${exports.aside[0]?.why ?? "it holds no table"}`,
      );
    if (others.length > 0) {
      const sheets = exports.kinds.map(({ sheets = [] }) => sheets.map((sheet) => `"${sheet}"`).join(", ")).join("; ");
      throw new UserError(
        `Cannot draft one pipeline for ${file.shownPath}: its sheets hold ${exports.kinds.length} kinds of tables (${sheets}); choose one with --sheet`,
        2,
      );
    }
    const draft = await exports.draft(kind, { ...request, answers: {} });
    const pipeline = writeDraft(draft);
    checkDraft(
      pipeline,
      draft.name,
      [...draft.fleets, ...request.fleet.known].map(({ name }) => name),
      request.slots ?? [...Object.keys(SLOT_TITLES), ...draft.ownSlots.map(({ name }) => name)],
    );
    return mapAnswer(draft, file.shownPath, pipeline);
  }, engine);
}

/** Exports with an engine and a folder of their own, all gone when `use` ends. */
export async function withExports<T>(use: (exports: ExportKinds) => Promise<T>, engine: EngineUse = {}): Promise<T> {
  const scratch = await mkdtemp(join(tmpdir(), "framelife-draft-"));
  try {
    return await withEngine(
      scratch,
      async (connection) => {
        const exports = new ExportKinds(connection, scratch, engine);
        try {
          return await use(exports);
        } finally {
          await exports.close();
        }
      },
      engine,
    );
  } finally {
    await rm(scratch, { recursive: true, force: true });
  }
}
