import type { DuckDBConnection } from "@duckdb/node-api";
import { accountsById, type FileAccount } from "../ingest/accounts.ts";
import { isOverLimit } from "../ingest/ingest.ts";
import { columns } from "../store/columns.ts";
import type { AuditedFile, AuditedPipeline, RowCounts } from "./audit-types.ts";

const ENDINGS = ["notData", "quarantined", "duplicate", "superseded", "corrected", "accepted"] as const;
const COUNTS = ["read", ...ENDINGS, "refusedValues", "warnings"] as const;

/** The accounts of the files in the temp table `audited`, in the order of versions. */
export async function auditedFiles(connection: DuckDBConnection, limit: number): Promise<AuditedFile[]> {
  const accounts = await accountsById(connection);
  const { file_id, name } = await columns(
    connection,
    "select file_id, name from source_name semi join audited using (file_id) order by rank",
    { file_id: "integer", name: "text" },
  );
  return name.flatMap((called, index) => {
    const account = accounts.get(file_id[index]!);
    return account === undefined ? [] : [audited(account, called, limit)];
  });
}

function audited(account: FileAccount, name: string, limit: number): AuditedFile {
  const { path, sheet, pipeline, record, state } = account;
  return {
    name,
    path,
    sheet: sheet ?? null,
    pipeline,
    record,
    state,
    ...countsOf([account]),
    balances: balances(account),
    overLimit: isOverLimit(account, limit),
  };
}

/** The same rows by pipeline, in the order in which the pipelines come. */
export function auditedPipelines(files: AuditedFile[]): AuditedPipeline[] {
  return [...new Set(files.map(({ pipeline }) => pipeline))].map((pipeline) => {
    const own = files.filter((file) => file.pipeline === pipeline);
    const counts = countsOf(own);
    return { pipeline, record: own[0]?.record ?? "", files: own.length, ...counts, balances: balances(counts) };
  });
}

/** The rows of several files together. */
export function countsOf(files: RowCounts[]): RowCounts {
  return Object.fromEntries(COUNTS.map((key) => [key, files.reduce((sum, file) => sum + file[key], 0)])) as RowCounts;
}

/** Whether every row read ended somewhere, and only once. */
export function balances(counts: RowCounts): boolean {
  return counts.read === ENDINGS.reduce((sum, key) => sum + counts[key], 0);
}
