import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import type { NamedPipeline, Workspace } from "../workspace/workspace.ts";
import { accountsById, type FileAccount } from "./accounts.ts";
import { ingestFile } from "./ingest-file.ts";
import type { Job } from "./job.ts";
import { checkNotData } from "./mapping/check-not-data.ts";
import { checkPipeline } from "./mapping/check-pipeline.ts";
import type { Known } from "./mapping/field-plan.ts";
import { matchFiles } from "./match-files.ts";

export type IngestReport = {
  files: FileAccount[];
  /** Files of which a larger share of the rows is quarantined than the workspace allows. */
  overLimit: FileAccount[];
};

export type IngestOptions = {
  /** Names of the pipelines to run; all of the workspace if not given. */
  pipelines?: string[];
  onFile?: (done: number, total: number, path: string) => void;
  /** The day it is, YYYY-MM-DD: no record lies after tomorrow. */
  today?: string;
};

/**
 * Reads the exports that the workspace's pipelines name into the store, one transaction a file. A file that has not changed, by
 * a pipeline that has not changed, is passed over; after a file whose pipeline has changed, those read later are read again too,
 * so that the store is what it would be had all been read in that order.
 * @throws UserError if a pipeline, a file, or the disk is at fault; what was read before it stays
 */
export async function ingest(
  workspace: Workspace,
  connection: DuckDBConnection,
  options: IngestOptions = {},
): Promise<IngestReport> {
  const known: Known = {
    fleets: workspace.configuration.fleets.map(({ name }) => name),
    slots: Object.keys(workspace.configuration.slots),
    today: options.today ?? localDay(new Date()),
  };
  const jobs: Job[] = [];
  for (const named of chosen(workspace, options.pipelines)) {
    const fields = checkPipeline(named, known);
    await checkNotData(connection, named);
    jobs.push(...matchFiles(workspace.folder, named).map((path) => ({ named, fields, path })));
  }
  await connection.run(`set memory_limit = '${MEMORY}'`);
  try {
    const done = await ingestAll(connection, jobs, { workspace, known, ...options });
    return reportOf(await accountsById(connection), done, workspace.configuration.quarantine_limit);
  } finally {
    await connection.run("reset memory_limit");
  }
}

// Rows of a large export wait on disk beyond this, beside the store: 5,000,000 cards of 22 columns then peak at 1.3 to 1.6 GB in all.
const MEMORY = "1GB";

type Surrounding = Pick<IngestOptions, "onFile"> & { workspace: Workspace; known: Known };

/** Reads each file; gives by the store's number of the file whether it was passed over. */
async function ingestAll(
  connection: DuckDBConnection,
  jobs: Job[],
  { workspace, known, onFile }: Surrounding,
): Promise<Map<number, boolean>> {
  const done = new Map<number, boolean>();
  let rereadAfter = Number.POSITIVE_INFINITY;
  for (const [index, job] of jobs.entries()) {
    onFile?.(index, jobs.length, job.path);
    const { fileId, outcome } = await ingestFile(connection, job, { workspace, known, rereadAfter });
    if (outcome === "again") rereadAfter = Math.min(rereadAfter, fileId);
    done.set(fileId, outcome === "unchanged");
  }
  onFile?.(jobs.length, jobs.length, "");
  return done;
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

function reportOf(accounts: Map<number, FileAccount>, done: Map<number, boolean>, limit: number): IngestReport {
  const files = [...done].flatMap(([fileId, unchanged]) => {
    const account = accounts.get(fileId);
    return account === undefined ? [] : [{ ...account, unchanged }];
  });
  const overLimit = files.filter(({ quarantined, read, notData }) => quarantined > limit * (read - notData));
  return { files, overLimit };
}

/** The day where the program runs, as people there write it: taken from the local calendar, never through UTC. */
function localDay(now: Date): string {
  const two = (part: number) => String(part).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
