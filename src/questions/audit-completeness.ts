import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import { runStep } from "../store/run-step.ts";
import type { FieldCompleteness } from "./audit-types.ts";

/** How many records have each field, by kind of record, fleet and month. */
export async function completeness(
  connection: DuckDBConnection,
  scope: { fleet: string | null; asOf: string | null },
): Promise<FieldCompleteness[]> {
  await runStep(connection, "52_completeness", { fleet: scope.fleet, as_of: scope.asOf });
  // There are as many rows as fields times months of all fleets: each word is kept once.
  const found = await columns(
    connection,
    `select record, fleet, field, strftime(month, '%Y-%m') as month, records, have
     from completeness order by record <> 'rebuild', record, fleet nulls first, place, month nulls first`,
    {
      record: "category",
      fleet: "category",
      field: "category",
      month: "category",
      records: "integer",
      have: "integer",
    },
  );
  const byField = new Map<string, FieldCompleteness>();
  for (let index = 0; index < found.records.length; index++) {
    const [record, fleet, field] = [
      wordAt(found.record, index)!,
      wordAt(found.fleet, index),
      wordAt(found.field, index)!,
    ];
    const key = `${record}/${fleet ?? ""}/${field}`;
    const own = byField.get(key) ?? { record, fleet, field, records: 0, have: 0, share: 0, months: [] };
    const [records, have] = [found.records[index]!, found.have[index]!];
    own.records += records;
    own.have += have;
    own.share = own.have / own.records;
    own.months.push({ month: wordAt(found.month, index), records, have });
    byField.set(key, own);
  }
  return [...byField.values()];
}

function wordAt({ codes, words }: { codes: Int32Array; words: string[] }, row: number): string | null {
  return words[codes[row]!] ?? null;
}
