import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import type { DuckDBConnection, DuckDBValue } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import { runStep } from "../store/run-step.ts";
import type { Workspace } from "../workspace/workspace.ts";
import { accountsById, checkBalance } from "./accounts.ts";
import { engineFault } from "./engine-fault.ts";
import { type Fingerprint, fingerprint } from "./export/fingerprint.ts";
import { exportsFolder, keepExport } from "./export/kept-export.ts";
import { type OpenExport, openExport } from "./export/open-export.ts";
import type { Job } from "./job.ts";
import { type KnownFile, knownFile, nextFileId } from "./known-file.ts";
import { bindColumns, type Header } from "./mapping/bind-columns.ts";
import type { RecordKind } from "./mapping/canonical-fields.ts";
import type { Known } from "./mapping/field-plan.ts";
import { stagingSql } from "./mapping/staging-sql.ts";
import { setAsideWithRaw } from "./raw-rows.ts";

type Context = {
  workspace: Workspace;
  known: Known;
  /** Files with a higher number are read again even if unchanged: one before them has been. */
  rereadAfter: number;
};

/** `new`: bytes not read before from this path. `again`: the same bytes by a changed mapping, in their old place in the order. */
export type Outcome = { fileId: number; outcome: "unchanged" | "new" | "again" };

/** Reads one export into the store, all of it or nothing. */
export async function ingestFile(connection: DuckDBConnection, job: Job, context: Context): Promise<Outcome> {
  const path = join(context.workspace.folder, job.path);
  const mark = await fingerprint(path).catch((error: unknown) => {
    throw engineFault(job.path, error);
  });
  const before = await knownFile(connection, job.path, job.named.name);
  const same = before !== undefined && before.sha256 === mark.sha256 ? before : undefined;
  if (same !== undefined && isUnchanged(same, job, context)) return { fileId: same.fileId, outcome: "unchanged" };

  const folder = exportsFolder(context.workspace.storePath);
  await mkdir(folder, { recursive: true });
  const { encoding, delimiter } = job.named.pipeline;
  const source = await openExport({ path, shownPath: job.path, encoding, delimiter, mark, scratch: folder });
  try {
    const fileId = same?.fileId ?? (await nextFileId(connection));
    const [kept, read] = await Promise.allSettled([
      keepExport(path, folder, mark.sha256),
      stageAndLoad(connection, { job, context, fileId, source, mark }),
    ]);
    if (read.status === "rejected") throw read.reason;
    await finish(connection, kept, job.path);
    return { fileId, outcome: same === undefined ? "new" : "again" };
  } finally {
    await source.close();
  }
}

function isUnchanged(before: KnownFile, { named }: Job, { rereadAfter }: Context): boolean {
  return before.pipelineSha256 === named.sha256 && before.fileId < rereadAfter;
}

type Load = { job: Job; context: Context; fileId: number; source: OpenExport; mark: Fingerprint };

/**
 * Stages the rows, then loads them in a transaction that is left open when that succeeds, and undone when it fails. Staging comes
 * before the transaction: the engine numbers rows from 0 only in a table that is committed.
 */
async function stageAndLoad(connection: DuckDBConnection, given: Load): Promise<void> {
  const { job, context, source } = given;
  try {
    await runStep(connection, "19_clear");
    await connection.run(stagingSql(source, bindColumns(job.named, job.fields, headerOf(given), context.known)));
    await checkStaged(connection, source, job.path);
    await connection.run("begin");
  } catch (error) {
    throw engineFault(job.path, error);
  }
  try {
    await load(connection, given);
  } catch (error) {
    await connection.run("rollback");
    throw engineFault(job.path, error);
  }
}

function headerOf({ job, source }: Load): Header {
  return { names: source.header, shownPath: job.path };
}

/** Commits when the export is kept: no record may point to an export that isn't there. */
async function finish(connection: DuckDBConnection, kept: PromiseSettledResult<void>, path: string): Promise<void> {
  if (kept.status === "rejected") {
    await connection.run("rollback");
    throw engineFault(path, kept.reason);
  }
  try {
    await connection.run("commit");
  } catch (error) {
    throw engineFault(path, error);
  }
}

const STEPS: Record<RecordKind, { versions: string; rows: string }> = {
  rebuild: { versions: "20_rebuild_versions", rows: "25_rebuild_rows" },
  unit: { versions: "21_unit_versions", rows: "26_unit_rows" },
  reading: { versions: "22_reading_versions", rows: "27_reading_rows" },
  retirement: { versions: "23_retirement_versions", rows: "28_retirement_rows" },
};

async function load(connection: DuckDBConnection, { job, context, fileId, source, mark }: Load): Promise<void> {
  const { named, path } = job;
  const { record, layout, encoding, delimiter } = named.pipeline;
  const values: Record<string, DuckDBValue> = {
    file_id: fileId,
    blanks: JSON.stringify(source.blanks),
    broken: JSON.stringify(source.broken),
    path,
    sha256: mark.sha256,
    bytes: mark.bytes,
    pipeline: named.name,
    pipeline_sha256: named.sha256,
    record,
    layout,
    encoding,
    delimiter,
  };
  await runStep(connection, "10_forget_file", values);
  const plain = source.blanks.length === 0 && source.broken.length === 0;
  await runStep(connection, plain ? "11_source_plain" : "11_source", values);
  await runStep(connection, "12_file", values);
  await runStep(connection, "13_set_aside", values);
  await runStep(connection, STEPS[record].versions, values);
  await runStep(connection, "24_verdicts", values);
  await runStep(connection, STEPS[record].rows, values);
  await runStep(connection, "29_loose_ends", values);
  await setAsideWithRaw(connection, { fileId, source }, context.workspace.storePath);
  await runStep(connection, "19_clear");
  for (const account of (await accountsById(connection)).values()) checkBalance(account);
}

/** The engine's reader and our scan must see the same records, or row numbers would point elsewhere. */
async function checkStaged(connection: DuckDBConnection, source: OpenExport, path: string): Promise<void> {
  if (source.records === undefined) return;
  const { staged } = await columns(connection, "select count(*)::integer as staged from staged", { staged: "integer" });
  if (staged[0] !== source.records) {
    throw new Error(`Cannot number the rows of ${path}: ${source.records} records found, ${staged[0]} read`);
  }
}
