import type { DuckDBConnection } from "@duckdb/node-api";
import { rows } from "../store/rows.ts";
import { titleOf } from "./audit-findings.ts";
import { count } from "./wording.ts";

const SO = "There is no life yet, for no record has a date:";

/** Why a store in which no record has a date has none, and what to mend: what kept most days out, with an example. */
export async function noLivesWords(connection: DuckDBConnection, files: number): Promise<string> {
  if (files === 0) return 'There is no life yet, for no file has been read; run "framelife ingest".';
  // A cell of a day that was refused says more than that its row has none.
  const [worst] = await rows(
    connection,
    `with refused as (
       select noted.*, concat_ws(':', name, row) as source_row, value is not null and ends_with(field, '_on') as is_day
       from noted join source_name using (file_id) where severity in ('quarantine', 'refuse') and row is not null
     )
     select rule, field, value, message, source_row, count(*) over same_rule as times
     from refused window same_rule as (partition by rule)
     order by count(*) filter (is_day) over same_rule desc, times desc, rule, is_day desc, rank, row limit 1`,
  );
  if (worst === undefined) {
    return `${SO} none of the exports read tells a day of a rebuild, a list of units, a meter round or a retirement; add the pipeline of one that does, or map its column of dates.`;
  }
  const of = (key: string) => String(worst[key]);
  const example =
    worst["value"] === null ? `at ${of("source_row")}` : `${of("field")} "${of("value")}" at ${of("source_row")}`;
  return `${SO} ${titleOf(of("rule"))}, ${count(Number(worst["times"]), "time")}, as ${example}: ${of("message")}.`;
}
