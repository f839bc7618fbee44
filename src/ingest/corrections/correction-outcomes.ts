import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../../store/columns.ts";

/** What became of a correction: its value was taken, stands there by now, or neither it nor the old one does. */
export type CorrectionOutcome = "applied" | "settled" | "stale";

/** What became of the corrections by their lines, on records that count now, then the better of several; none of those without a record. */
export async function correctionOutcomes(connection: DuckDBConnection): Promise<Map<number, CorrectionOutcome>> {
  const found = await columns(
    connection,
    `select line, arg_min(outcome, case when coalesce(standing, 'current') = 'current' then 0 else 3 end
              + case outcome when 'applied' then 0 when 'settled' then 1 else 2 end) as outcome
     from landing.corrected left join records.standing using (file_id, row) group by line`,
    { line: "integer", outcome: "text" },
  );
  return new Map(Array.from(found.line, (line, index) => [line, found.outcome[index]! as CorrectionOutcome]));
}

/** How many records that count now each line has changed. The rows of a card, and its measured values, are one. */
export async function correctedRecords(connection: DuckDBConnection): Promise<Map<number, number>> {
  const found = await columns(
    connection,
    `select line, count(distinct coalesce(r.fleet || '/' || r.card, v.key::varchar))::integer as records
     from landing.corrected join records.version v using (file_id, row) left join records.rebuild_row r using (file_id, row)
     where outcome = 'applied' and v.standing = 'current' group by line`,
    { line: "integer", records: "integer" },
  );
  return new Map(Array.from(found.line, (line, index) => [line, found.records[index]!]));
}
