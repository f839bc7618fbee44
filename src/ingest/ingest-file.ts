import { mkdir, mkdtemp, rm } from "node:fs/promises";
import { join } from "node:path";
import type { DuckDBConnection, DuckDBValue } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import type { EngineUse } from "../store/engine.ts";
import { withEngineProgress } from "../store/engine-progress.ts";
import { inRowOrder } from "../store/row-order.ts";
import { runStep } from "../store/run-step.ts";
import type { Workspace } from "../workspace/workspace.ts";
import { accountsById, checkBalance } from "./accounts.ts";
import { engineFault } from "./engine-fault.ts";
import { type Fingerprint, fingerprint } from "./export/fingerprint.ts";
import { exportsFolder, keepExport, unpackExport } from "./export/kept-export.ts";
import { type OpenExport, openExport } from "./export/open-export.ts";
import { readingOf } from "./export/reading.ts";
import type { Job } from "./job.ts";
import { type KnownFile, nextFileId } from "./known-file.ts";
import { bindColumns, wantedColumns } from "./mapping/bind-columns.ts";
import type { RecordKind } from "./mapping/canonical-fields.ts";
import { evidenceSql, type Telling, tellingCounts } from "./mapping/evidence-sql.ts";
import type { Known } from "./mapping/field-plan.ts";
import { mappedFields } from "./mapping/mapped-fields.ts";
import { sourceSql } from "./mapping/source-sql.ts";
import type { Mapped } from "./mapping/staging.ts";
import { stagingSql } from "./mapping/staging-sql.ts";
import { readRawBack } from "./raw-rows.ts";
import { withWaitingRows } from "./waiting-rows.ts";

type Context = {
  workspace: Workspace;
  known: Known;
  /** What the store knew of the files before. */
  files: KnownFile[];
  engine?: EngineUse;
  /** How far this file has come, 0 to 1. */
  onShare?: (share: number) => void;
};

// Where a file stands when its bytes are hashed, and when its rows are staged; measured on 1,000,000 cards.
const HASHED = 0.05;
const STAGED = 0.6;

export type Outcome = { fileId: number; unchanged: boolean };

/** What messages call an export. */
export function shownPath({ path, sheet }: { path: string; sheet?: string }): string {
  return sheet === undefined ? path : `${path}, sheet "${sheet}"`;
}

/** Reads one export into the store, all of it or nothing. */
export async function ingestFile(connection: DuckDBConnection, job: Job, context: Context): Promise<Outcome> {
  const folder = exportsFolder(context.workspace.storePath);
  if (job.kept !== undefined) return readAgain(connection, job, job.kept, context, folder);
  const path = join(context.workspace.folder, job.path);
  const mark = await fingerprint(path, job.path).catch((error: unknown) => {
    throw engineFault(job.path, error);
  });
  context.onShare?.(HASHED);
  const before = latestOf(job, context.files);
  const same = before?.sha256 === mark.sha256 ? before : undefined;
  if (same?.pipelineSha256 === job.named.sha256) return { fileId: same.fileId, unchanged: true };
  await mkdir(folder, { recursive: true });
  const fileId = same?.fileId ?? (await nextFileId(connection));
  await readInto(connection, { job, context, fileId, mark }, path, () => keepExport(path, folder, mark.sha256));
  return { fileId, unchanged: false };
}

/** The latest state in which the store knows the file of this place, as read by this pipeline. */
function latestOf({ path, sheet, named }: Job, files: KnownFile[]): KnownFile | undefined {
  return files.findLast((file) => file.path === path && file.sheet === sheet && file.pipeline === named.name);
}

/** Reads an export that lies no longer in its place by a changed pipeline, from its kept copy. */
async function readAgain(
  connection: DuckDBConnection,
  job: Job,
  { fileId, sha256 }: { fileId: number; sha256: string },
  context: Context,
  folder: string,
): Promise<Outcome> {
  const scratch = await mkdtemp(join(folder, "unpacked-"));
  try {
    const path = join(scratch, "export");
    await unpackExport(folder, sha256, job.path, path);
    await readInto(connection, { job, context, fileId, mark: await fingerprint(path, job.path) }, path, async () => {});
  } finally {
    await rm(scratch, { recursive: true, force: true });
  }
  return { fileId, unchanged: false };
}

type Load = { job: Job; context: Context; fileId: number; mark: Fingerprint };

async function readInto(
  connection: DuckDBConnection,
  given: Load,
  path: string,
  keep: () => Promise<void>,
): Promise<void> {
  // Beside all that follows: looking through the text takes one core only.
  const keeping = Promise.allSettled([keep()]);
  try {
    await readOpened(connection, given, path, keeping);
  } finally {
    await keeping;
  }
}

async function readOpened(
  connection: DuckDBConnection,
  given: Load,
  path: string,
  keeping: Promise<[PromiseSettledResult<void>]>,
): Promise<void> {
  const { job, context, mark } = given;
  const folder = exportsFolder(context.workspace.storePath);
  const source = await openExport({
    path,
    shownPath: shownPath(job),
    reading: readingOf(job.named.pipeline, job.path, job.sheet),
    wanted: wantedColumns(job.named, job.fields),
    mark,
    scratch: folder,
    ...(context.engine && { engine: context.engine }),
  });
  try {
    await withWaitingRows(connection, { csvPath: source.csvPath, folder }, async () => {
      await stageAndLoad(connection, given, source);
      const [kept] = await keeping;
      await finish(connection, kept, job.path);
    });
  } finally {
    await source.close();
  }
}

/**
 * Stages the rows, then loads them in a transaction that is left open when that succeeds, and undone when it fails. Staging comes
 * before the transaction: the engine numbers rows from 0 only in a table that is committed.
 */
async function stageAndLoad(connection: DuckDBConnection, given: Load, source: OpenExport): Promise<void> {
  const { path } = given.job;
  try {
    await stage(connection, given, source);
    await connection.run("begin");
  } catch (error) {
    throw engineFault(path, error);
  }
  try {
    await load(connection, given, source);
  } catch (error) {
    await connection.run("rollback");
    throw engineFault(path, error);
  }
}

async function stage(connection: DuckDBConnection, { job, context }: Load, source: OpenExport): Promise<void> {
  await runStep(connection, "19_clear");
  const sparse = source.reading.format === "json" || source.reading.format === "ndjson";
  const header = { names: source.header, shownPath: shownPath(job), sparse };
  const staging = bindColumns(job.named, job.fields, header, context.known);
  const mapped = mappedFields(source, staging);
  const onShare = context.onShare && ((share: number) => context.onShare?.(HASHED + (STAGED - HASHED) * share));
  const [read, view] = stagingSql(source, staging, mapped);
  await inRowOrder(connection, () => withEngineProgress(connection, onShare, () => connection.run(read)));
  await connection.run(view);
  await checkStaged(connection, source, job.path);
  const told = await telling(connection, mapped);
  for (const statement of evidenceSql(staging, mapped, told)) await connection.run(statement);
  const { field } = await columns(connection, "select distinct field from doubt order by field", { field: "text" });
  for (const statement of sourceSql(source, staging, mapped, field)) await connection.run(statement);
}

async function telling(connection: DuckDBConnection, mapped: Mapped[]): Promise<Telling> {
  const counts = tellingCounts(mapped);
  if (counts.length === 0) return {};
  const wanted = counts.map(([name, sql]) => `(${sql})::integer as ${name}`);
  const types = Object.fromEntries(counts.map(([name]) => [name, "integer" as const]));
  const told = await columns(connection, `select ${wanted.join(", ")} from staged where not_data is null`, types);
  return Object.fromEntries(counts.map(([name]) => [name, told[name]?.[0] ?? 0]));
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

const ROWS: Record<RecordKind, string> = {
  rebuild: "25_rebuild_rows",
  unit: "25_unit_rows",
  reading: "25_reading_rows",
  retirement: "25_retirement_rows",
  stock: "25_stock_rows",
  part: "25_part_rows",
  bearing: "25_bearing_rows",
};

async function load(
  connection: DuckDBConnection,
  { job, fileId, mark, context }: Load,
  source: OpenExport,
): Promise<void> {
  const { named, path, sheet, places } = job;
  const { record, layout } = named.pipeline;
  const blanks = JSON.stringify(source.blanks);
  const values: Record<string, DuckDBValue> = { file_id: fileId, record, layout };
  await runStep(connection, "10_forget_file", values);
  await runStep(connection, "12_file", {
    ...values,
    path,
    sheet: sheet ?? null,
    sha256: mark.sha256,
    bytes: mark.bytes,
    pipeline: named.name,
    pipeline_sha256: named.sha256,
    reading: JSON.stringify(source.reading),
    header: JSON.stringify(source.header),
    blanks: source.blanks.length,
    pipeline_place: places.pipeline,
    pattern_place: places.pattern,
    sheet_place: places.sheet,
  });
  await runStep(connection, "13_set_aside", { ...values, blanks });
  await readRawBack(connection, fileId, source);
  await runStep(connection, "20_incoming", values);
  await runStep(connection, "24_verdicts", values);
  context.onShare?.(STAGED + 0.1);
  await runStep(connection, ROWS[record], values);
  context.onShare?.(1);
  await runStep(connection, "26_standings");
  await runStep(connection, "27_notes", values);
  await runStep(connection, "19_clear");
  for (const account of (await accountsById(connection, fileId)).values()) checkBalance(account);
}

/** The engine's reader and our scan must see the same records, or row numbers would point elsewhere. */
async function checkStaged(connection: DuckDBConnection, source: OpenExport, path: string): Promise<void> {
  if (source.records === undefined) return;
  const { staged } = await columns(connection, "select count(*)::integer as staged from staged", { staged: "integer" });
  if (staged[0] !== source.records) {
    throw new Error(`Cannot number the rows of ${path}: ${source.records} records found, ${staged[0]} read`);
  }
}
