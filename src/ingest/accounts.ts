import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import type { FileState } from "./known-file.ts";

/** Where the rows of one file ended: `read` is the sum of the six counts after it; a refused value moves no row. */
export type FileAccount = {
  /** Relative to the workspace. */
  path: string;
  /** Sheet of a workbook. */
  sheet?: string;
  pipeline: string;
  record: string;
  state: FileState;
  /** Neither the file nor its pipeline has changed since it was read: nothing was done. */
  unchanged: boolean;
  read: number;
  notData: number;
  quarantined: number;
  duplicate: number;
  superseded: number;
  corrected: number;
  accepted: number;
  /** Values left out of rows that stand. */
  refusedValues: number;
  /** Doubts about rows and values that stand. */
  warnings: number;
  /** Findings by rule: refusals of values and of whole rows, and warnings. */
  rules: Record<string, number>;
};

/** The accounts of all files in the store, in the order in which they were first read. */
export async function accounts(connection: DuckDBConnection): Promise<FileAccount[]> {
  return [...(await accountsById(connection)).values()];
}

/** The same by the store's number of the file; of one file alone where its number is given. */
export async function accountsById(connection: DuckDBConnection, only?: number): Promise<Map<number, FileAccount>> {
  const wanted = only === undefined ? "" : `where file_id = ${only}`;
  const found = await columns(connection, `from landing.account ${wanted} order by file_id`, {
    file_id: "integer",
    path: "text",
    pipeline: "text",
    record: "text",
    sheet: "text",
    state: "text",
    rows_read: "integer",
    not_data: "integer",
    quarantined: "integer",
    duplicate: "integer",
    superseded: "integer",
    corrected: "integer",
    accepted: "integer",
    refused_values: "integer",
    warnings: "integer",
  });
  const rules = await rulesById(connection, wanted);
  const byId = new Map<number, FileAccount>();
  for (let index = 0; index < found.file_id.length; index++) {
    const id = found.file_id[index]!;
    byId.set(id, {
      path: found.path[index]!,
      ...(found.sheet[index] === "" ? {} : { sheet: found.sheet[index]! }),
      state: found.state[index]! as FileState,
      pipeline: found.pipeline[index]!,
      record: found.record[index]!,
      unchanged: true,
      read: found.rows_read[index]!,
      notData: found.not_data[index]!,
      quarantined: found.quarantined[index]!,
      duplicate: found.duplicate[index]!,
      superseded: found.superseded[index]!,
      corrected: found.corrected[index]!,
      accepted: found.accepted[index]!,
      refusedValues: found.refused_values[index]!,
      warnings: found.warnings[index]!,
      rules: rules.get(id) ?? {},
    });
  }
  return byId;
}

async function rulesById(connection: DuckDBConnection, wanted: string): Promise<Map<number, Record<string, number>>> {
  const found = await columns(
    connection,
    `select file_id, rule, count(*)::integer as refusals from quarantine.finding ${wanted} group by all order by file_id, rule`,
    { file_id: "integer", rule: "text", refusals: "integer" },
  );
  const byId = new Map<number, Record<string, number>>();
  for (let index = 0; index < found.file_id.length; index++) {
    const rules = byId.get(found.file_id[index]!) ?? {};
    rules[found.rule[index]!] = found.refusals[index]!;
    byId.set(found.file_id[index]!, rules);
  }
  return byId;
}

/** Throws if a row of the file was lost or counted twice: our own mistake, and the transaction must not be committed. */
export function checkBalance(account: FileAccount): void {
  const { read, notData, quarantined, duplicate, superseded, corrected, accepted } = account;
  const sum = notData + quarantined + duplicate + superseded + corrected + accepted;
  if (sum !== read) {
    throw new Error(
      `Cannot account for ${account.path}: ${read} rows read, but ${notData} not data + ${quarantined} quarantined + ${duplicate} duplicate + ${superseded} superseded + ${corrected} corrected + ${accepted} accepted = ${sum}`,
    );
  }
}
