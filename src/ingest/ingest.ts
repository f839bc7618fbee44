import { statSync } from "node:fs";
import { join } from "node:path";
import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { columns } from "../store/columns.ts";
import type { EngineUse } from "../store/engine.ts";
import { inAnyOrder } from "../store/row-order.ts";
import { runStep } from "../store/run-step.ts";
import type { NamedPipeline, Workspace } from "../workspace/workspace.ts";
import { accountsById, type FileAccount } from "./accounts.ts";
import { type AliasReport, proposeAliases } from "./aliases/propose-aliases.ts";
import { type Amended, amended } from "./amended.ts";
import { checkRecords } from "./check-records.ts";
import { type CorrectionsReport, correctionsReport } from "./corrections/corrections-report.ts";
import { exportsFolder } from "./export/kept-export.ts";
import { readingOf } from "./export/reading.ts";
import { chosenSheets } from "./export/sheets.ts";
import { type ForgottenFile, forgetFiles, settle } from "./forget-files.ts";
import { ingestFile, shownPath } from "./ingest-file.ts";
import type { Job } from "./job.ts";
import { type KnownFile, knownFiles } from "./known-file.ts";
import { removeLeftovers } from "./leftovers.ts";
import { checkNotData } from "./mapping/check-not-data.ts";
import { checkPipeline } from "./mapping/check-pipeline.ts";
import type { Known } from "./mapping/field-plan.ts";
import { type MatchedFolder, matchFiles, matchFolders } from "./match-files.ts";

export type IngestReport = {
  /** Of the files read or looked at, in order. */
  files: FileAccount[];
  /** Files that were read once and are there no more; their rows are kept. */
  gone: FileAccount[];
  /** Older states of files, by the records that the newer state lacks or has in quarantine; they are kept. */
  vanished: { path: string; sheet?: string; records: number }[];
  /** Files forgotten with their rows. */
  forgotten: ForgottenFile[];
  /** Folders that patterns find in place of files. */
  folders: MatchedFolder[];
  /** Files of which a larger share of the rows is quarantined than the workspace allows. */
  overLimit: FileAccount[];
  aliases: AliasReport;
  corrections: CorrectionsReport;
};

export type IngestOptions = {
  /** Names of the pipelines to run; all of the workspace if not given. */
  pipelines?: string[];
  /** How far the reading has come, in bytes of all exports, and which is being read. */
  onProgress?: (done: number, total: number, path: string) => void;
  /** A file has been read anew and committed, by the store's number of it. */
  onFile?: (fileId: number) => void;
  /** The day it is, YYYY-MM-DD: no record lies after tomorrow. */
  today?: string;
  /** How engines are to be used that are started beside that of the store. */
  engine?: EngineUse;
  /** Forget files that are there no more, and older states of files whose newer state lacks some of their records. */
  forget?: boolean;
};

/**
 * Reads the exports that the workspace's pipelines name into the store, one transaction a file, then looks over all records. A file that
 * has not changed, by a pipeline that has not changed, is passed over. The records are the same whatever the order of reading.
 * @throws UserError if a pipeline, a file, or the disk is at fault; what was read before it stays
 */
export async function ingest(
  asConfigured: Workspace,
  connection: DuckDBConnection,
  options: IngestOptions = {},
): Promise<IngestReport> {
  const given = await amended(asConfigured, options.today ?? localDay(new Date()));
  return inAnyOrder(connection, () => ingestWith(given, connection, options));
}

/**
 * Bytes that the engine had best take for reading exports; rows of a large one wait on disk beyond, beside the store. 1,000,000 cards of 22
 * columns then peak at 0.9 GB in all, 10,000,000 at 1.1 to 1.3 GB. With 800 MB neither was faster.
 */
export const INGEST_MEMORY = 600e6;

async function ingestWith(
  { workspace, known, aliases }: Amended,
  connection: DuckDBConnection,
  options: IngestOptions,
): Promise<IngestReport> {
  await removeLeftovers(exportsFolder(workspace.storePath));
  const files = await knownFiles(connection);
  const jobs = await jobsOf(workspace, connection, { known, files, ...options });
  await place(connection, jobs, options.pipelines);
  const check = () => checkRecords(connection, workspace.configuration, known.severities, aliases);
  const done = await readAll(connection, jobs, { workspace, known, files, ...options }).catch(
    async (error: unknown) => {
      // What was read before the fault stays, and must be looked over as all else; the fault itself is what to tell.
      await check().catch(() => {});
      throw error;
    },
  );
  const forgotten = options.forget === true ? await forgetFiles(connection) : [];
  await check();
  return {
    ...reportOf(await accountsById(connection), done, forgotten, workspace.configuration.quarantine_limit),
    folders: chosen(workspace, options.pipelines).flatMap((named) =>
      matchFolders(
        workspace,
        named,
        matchFiles(workspace, named, () => true),
      ),
    ),
    aliases: await proposeAliases(connection, workspace.folder, aliases),
    corrections: await correctionsReport(connection, known.corrections, {
      all: workspace.pipelines,
      run: chosen(workspace, options.pipelines),
    }),
  };
}

type Wanted = { known: Known; files: KnownFile[] } & Pick<IngestOptions, "pipelines" | "forget">;

/** What there is to read: each export or sheet that a pipeline finds, and those no longer there that a changed pipeline reads otherwise. */
async function jobsOf(
  workspace: Workspace,
  connection: DuckDBConnection,
  { known, files, pipelines, forget = false }: Wanted,
): Promise<Job[]> {
  const jobs: Job[] = [];
  for (const named of chosen(workspace, pipelines)) {
    const fields = checkPipeline(named, known);
    await checkNotData(connection, named);
    const own = files.filter((file) => file.pipeline === named.name);
    const pipeline = workspace.pipelines.indexOf(named);
    const isKnown = (path: string) => own.some((file) => path === "" || file.path === path);
    const matched = matchFiles(workspace, named, isKnown);
    const there: Job[] = [];
    for (const { path, pattern } of matched) {
      for (const [sheet, name] of (await sheetsOf(workspace, named, path)).entries()) {
        const job: Job = { named, fields, path, places: { pipeline, pattern, sheet } };
        there.push(name === undefined ? job : { ...job, sheet: name });
      }
    }
    const old = own.filter(
      (file) => file.pipelineSha256 !== named.sha256 && !isThere(file, own, there) && !(forget && isGone(file, there)),
    );
    jobs.push(...there, ...old.map((file) => keptJob(file, named, fields)));
  }
  return jobs;
}

type Place = { path: string; sheet?: string };
const inPlaceOf = (file: Place) => (other: Place) => other.path === file.path && other.sheet === file.sheet;

/** The latest state of a file that is in its place is read from there. */
function isThere(file: KnownFile, own: KnownFile[], there: Job[]): boolean {
  return own.findLast(inPlaceOf(file)) === file && !isGone(file, there);
}

function isGone(file: KnownFile, there: Job[]): boolean {
  return !there.some(inPlaceOf(file));
}

function keptJob(file: KnownFile, named: NamedPipeline, fields: Job["fields"]): Job {
  const { fileId, sha256, path, sheet, places } = file;
  const job: Job = { named, fields, path, places, kept: { fileId, sha256 } };
  return sheet === undefined ? job : { ...job, sheet };
}

async function sheetsOf({ folder }: Workspace, named: NamedPipeline, path: string): Promise<(string | undefined)[]> {
  if (readingOf(named.pipeline, path).format !== "xlsx") return [undefined];
  return chosenSheets(join(folder, path), path, named.pipeline.sheet);
}

/** Notes where the files lie now in the order of versions, and which are gone; where that moves any, all versions are weighed anew. */
async function place(connection: DuckDBConnection, jobs: Job[], pipelines: string[] | undefined): Promise<void> {
  const places = jobs.flatMap(({ named, path, sheet, places: at, kept }) =>
    kept === undefined
      ? [
          {
            path,
            sheet: sheet ?? null,
            pipeline: named.name,
            pipeline_place: at.pipeline,
            pattern_place: at.pattern,
            sheet_place: at.sheet,
          },
        ]
      : [],
  );
  await connection.run("begin");
  try {
    await runStep(connection, "14_places", {
      places: JSON.stringify(places),
      all: pipelines === undefined || pipelines.length === 0,
      pipelines: JSON.stringify(pipelines ?? []),
    });
    const { moved } = await columns(connection, "select count(*)::integer as moved from moved", { moved: "integer" });
    if (moved[0] !== 0) await settle(connection);
    await connection.run("commit");
  } catch (error) {
    await connection.run("rollback");
    throw error;
  }
}

type Surrounding = Pick<IngestOptions, "onProgress" | "onFile" | "engine"> & {
  workspace: Workspace;
  known: Known;
  files: KnownFile[];
};

/** Reads each file; then, where a pipeline has changed too, the states in whose place newer bytes have just come, which it reads otherwise. */
async function readAll(
  connection: DuckDBConnection,
  jobs: Job[],
  surrounding: Surrounding & Pick<IngestOptions, "pipelines" | "forget">,
): Promise<Map<number, boolean>> {
  const { workspace, known, pipelines, forget = false } = surrounding;
  const done = await ingestAll(connection, jobs, surrounding);
  const files = await knownFiles(connection);
  const there = jobs.filter(({ kept }) => kept === undefined);
  const older = chosen(workspace, pipelines).flatMap((named) =>
    files
      .filter((file) => file.pipeline === named.name && file.pipelineSha256 !== named.sha256)
      .filter((file) => !(forget && isGone(file, there)))
      .map((file) => keptJob(file, named, checkPipeline(named, known))),
  );
  if (older.length === 0) return done;
  return new Map([...done, ...(await ingestAll(connection, older, { ...surrounding, files }))]);
}

/** Reads each file; gives by the store's number of the file whether it was passed over. */
async function ingestAll(
  connection: DuckDBConnection,
  jobs: Job[],
  { workspace, known, files, onProgress, onFile, engine }: Surrounding,
): Promise<Map<number, boolean>> {
  const done = new Map<number, boolean>();
  const sizes = jobs.map((job) => sizeOf(workspace.folder, job));
  const total = sizes.reduce((sum, size) => sum + size, 0);
  let before = 0;
  for (const [index, job] of jobs.entries()) {
    const [size, begun] = [sizes[index]!, before];
    const onShare = onProgress && ((share: number) => onProgress(begun + share * size, total, shownPath(job)));
    onShare?.(0);
    const context = { workspace, known, files, ...(engine && { engine }) };
    const { fileId, unchanged } = await ingestFile(connection, job, onShare ? { ...context, onShare } : context).catch(
      (error: unknown) => Promise.reject(job.kept === undefined ? error : ofKept(error, job, files)),
    );
    done.set(fileId, unchanged);
    if (!unchanged) onFile?.(fileId);
    before += size;
  }
  onProgress?.(total, total, "");
  return done;
}

/** Says of a file that is read from its kept copy that it is not the one that lies there, if any does, and what can be done. */
function ofKept(error: unknown, { path, sheet, kept }: Job, files: KnownFile[]): unknown {
  if (!(error instanceof UserError)) return error;
  const isNewer = (file: KnownFile) => file.path === path && file.sheet === sheet && file.fileId > (kept?.fileId ?? 0);
  const why = files.some(isNewer)
    ? "so it stood in an older state, whose records are kept and read by the changed pipeline too; let that read both, as column: [NEW NAME, OLD NAME] does"
    : 'so it stood when it was there, and its records are kept and read by the changed pipeline too; let that read both, as column: [NEW NAME, OLD NAME] does, or forget it with "framelife ingest --forget"';
  return new UserError(`${error.message}; ${why}`, error.status, { cause: error });
}

/** Bytes of an export; 1 where it can't be told, for the reading will say what is wrong with it. */
function sizeOf(folder: string, { path, kept }: Job): number {
  return kept === undefined ? (statSync(join(folder, path), { throwIfNoEntry: false })?.size ?? 1) : 1;
}

function chosen(workspace: Workspace, names: string[] | undefined): NamedPipeline[] {
  if (names === undefined || names.length === 0) return workspace.pipelines;
  return names.map((name) => {
    const found = workspace.pipelines.find((named) => named.name === name);
    if (found !== undefined) return found;
    const listed = workspace.pipelines.map((named) => named.name).join(", ");
    throw new UserError(`Cannot ingest "${name}": ${workspace.file} names no such pipeline; it names ${listed}`, 2);
  });
}

function reportOf(
  accounts: Map<number, FileAccount>,
  done: Map<number, boolean>,
  forgotten: ForgottenFile[],
  limit: number,
): Omit<IngestReport, "aliases" | "corrections" | "folders"> {
  const files = [...done].flatMap(([fileId, unchanged]) => {
    const account = accounts.get(fileId);
    return account === undefined ? [] : [{ ...account, unchanged }];
  });
  return {
    files,
    gone: [...accounts.values()].filter(({ state }) => state === "gone"),
    vanished: [...accounts.values()].flatMap(({ path, sheet, rules }) => {
      const records = rules["vanished_row"] ?? 0;
      return records === 0 ? [] : [{ path, ...(sheet === undefined ? {} : { sheet }), records }];
    }),
    forgotten,
    overLimit: files.filter((file) => isOverLimit(file, limit)),
  };
}

/** Whether more of a file's rows that are data are in quarantine than `limit`, a share, allows. */
export function isOverLimit({ quarantined, read, notData }: FileAccount, limit: number): boolean {
  return quarantined > limit * (read - notData);
}

/** The day where the program runs, as people there write it: taken from the local calendar, never through UTC. */
function localDay(now: Date): string {
  const two = (part: number) => String(part).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
