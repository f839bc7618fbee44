import { UserError } from "../errors.ts";
import {
  checkRenamed,
  covariates,
  type OpenPlainTable,
  plainColumn,
  plainNumber,
  plainWord,
  refuseFaultyRows,
} from "./plain-table.ts";

const OWN = ["unit", "time", "event", "entry", "position"] as const;
/** Names that `observed` has for itself. */
const RESERVED =
  "start stop ends entered age_entered from_new whole entity place ordinal left_out seen_stop said said_text time_text entry_text history group_number".split(
    " ",
  );
const ENDS = "case said when '1' then 'failure' when '0' then 'end' else said end";

/**
 * Turns a plain table of histories into `observed`, the table that the questions read: one row per stretch between rebuilds.
 * Columns: `unit, time, event[, entry]`; event `failure`, `planned` or `end` (1 or 0), one `end` a unit; `entry` is the unit's age
 * when its observation began.
 * @throws UserError with rows, units and values where the table can't be used
 */
export async function studyPlainHistories(table: OpenPlainTable, renamed: Record<string, string>): Promise<void> {
  checkRenamed(renamed, OWN);
  const [unit, time, event, entry, position] = OWN.map((name) => plainColumn(table, renamed, name));
  if (unit === undefined || time === undefined || event === undefined) {
    throw new UserError(
      `Cannot use ${table.path}: it needs unit, time and event; its columns are ${table.headers.join(", ")}; name others with --columns unit=...,time=...,event=...`,
    );
  }
  const entered = entry === undefined ? "0" : plainNumber(table, entry, "0");
  await table.connection.run(`create temp table read_histories as
    select *, ${ENDS} as ends from (
      select "row ", ${unit}::varchar as unit, ${unit}::varchar as entity, ${position ?? "null"}::varchar as place${position === undefined ? "" : `, ${position} as position`}, ${plainNumber(table, time, "null")} as stop, ${time} as time_text, ${plainWord(table, event)} as said, ${event} as said_text,
             ${entered} as entered, ${entry ?? "null"} as entry_text${await covariates(table, [unit, time, event, entry, position], RESERVED)}
      from plain)`);
  await refuseFaultyRows(table, "read_histories", [
    { when: "unit is null or trim(unit) = ''", says: "unit must not be blank", shows: "unit" },
    {
      when: "stop is null or stop < 0 or not isfinite(stop)",
      says: "time must be a number from 0",
      shows: "time_text",
    },
    {
      when: "said is null or ends not in ('failure', 'planned', 'end')",
      says: "event must be failure (1), planned or end (0)",
      shows: "said_text",
    },
    {
      when: "entered is null or not (entered between 0 and stop)",
      says: "entry must be a number from 0, not above the time",
      shows: "entry_text",
    },
  ]);
  await refuseOddUnits(table);
  await table.connection.run(`create temp table observed as
    select * exclude ("row ", time_text, said, said_text, entry_text),
           coalesce(lag(stop) over history, entered) as start,
           lag(stop) over history is not null or entered = 0 as whole,
           entered as age_entered, entered = 0 as from_new,
           null::varchar as left_out, null::double as seen_stop, stop as ordinal
    from read_histories window history as (partition by unit order by stop, ends = 'end', "row ")`);
}

/** A history says once where it ends, and nothing happens after that. */
async function refuseOddUnits(table: OpenPlainTable): Promise<void> {
  const result = await table.connection.runAndReadAll(`
    select unit, count(*) filter (ends = 'end')::integer as ends, count(distinct entered)::integer as entries,
           max(stop) filter (ends = 'end') as over, max(stop) as last
    from read_histories group by unit
    having ends <> 1 or entries <> 1 or last > over order by unit limit 1`);
  const [odd] = result.getRows();
  if (odd === undefined) return;
  const [unit, ends, entries, over, last] = odd;
  const fault =
    ends !== 1
      ? `unit "${unit}" has ${ends} rows with event end; give each unit one, at the age where its observation stops`
      : entries !== 1
        ? `unit "${unit}" has ${entries} different entries; give the same on each of its rows`
        : `unit "${unit}" has an event at ${last}, after its end at ${over}; correct either`;
  throw new UserError(`Cannot use ${table.path}: ${fault}`);
}
