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
  const found = await columns(
    connection,
    `select record, coalesce(fleet, '') as fleet, field, coalesce(strftime(month, '%Y-%m'), '') as month, records, have
     from completeness order by record <> 'rebuild', record, fleet, place, month nulls last`,
    { record: "text", fleet: "text", field: "text", month: "text", records: "integer", have: "integer" },
  );
  const byField = new Map<string, FieldCompleteness>();
  for (let index = 0; index < found.record.length; index++) {
    const [record, fleet, field] = [found.record[index]!, found.fleet[index]!, found.field[index]!];
    const key = `${record}/${fleet}/${field}`;
    const own = byField.get(key) ?? { record, fleet: fleet || null, field, records: 0, have: 0, share: 0, months: [] };
    const [records, have] = [found.records[index]!, found.have[index]!];
    own.records += records;
    own.have += have;
    own.share = own.have / own.records;
    own.months.push({ month: found.month[index] || null, records, have });
    byField.set(key, own);
  }
  return [...byField.values()];
}
