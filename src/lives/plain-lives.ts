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

const OWN = ["time", "status", "entry", "time_low", "time_high", "count", "unit", "position", "mode"] as const;

/** Names that `studied` has for itself. */
const RESERVED =
  "entity entity_name place place_name life life_id weight low_end high_end said said_text time_text entry_text count_text last_seen assumed_running left_out group_number entry status time_low time_high within".split(
    " ",
  );

function textOf(column: string | undefined): string {
  return column ?? "null::varchar";
}

/**
 * Turns a plain table of lives into `studied`, the table that the questions read.
 * Columns: `time, status[, entry]`, or `time_low, time_high` (low blank or 0: left-censored; high blank or inf: right; equal: exact);
 * `count`, `unit`, `position`, `mode` (what a failed life failed by), and any covariate.
 * @param renamed - our name -> header of the table
 * @throws UserError with rows and values where the table can't be used
 */
export async function studyPlainLives(table: OpenPlainTable, renamed: Record<string, string>): Promise<void> {
  checkRenamed(renamed, OWN);
  const [time, status, entry, low, high, count, unit, position, mode] = OWN.map((name) =>
    plainColumn(table, renamed, name),
  );
  const exact = time !== undefined && status !== undefined;
  const interval = low !== undefined && high !== undefined;
  if (exact === interval) {
    throw new UserError(
      `Cannot use ${table.path}: it needs either time and status, or time_low and time_high; its columns are ${table.headers.join(", ")}; name others with --columns time=...,status=...`,
    );
  }
  const numberOf = (column: string | undefined, missing: string) =>
    column === undefined ? missing : plainNumber(table, column, missing);
  const ends = exact
    ? `${numberOf(time, "null")} as low_end, ${plainWord(table, status)} as said, ${status} as said_text, ${time} as time_text`
    : `${numberOf(low, "0")} as low_end, ${numberOf(high, "'infinity'::double")} as high_end, '' as said, concat(${low}, ' to ', ${high}) as time_text`;
  await table.connection.run(`create temp table read_lives as select "row ", ${ends},
      ${numberOf(entry, "0")} as entry, ${textOf(entry)} as entry_text,
      ${numberOf(count, "1")} as weight, ${textOf(count)} as count_text,
      ${textOf(unit)}::varchar as entity_name, ${textOf(position)}::varchar as place_name, ${textOf(mode)}::varchar as mode${await covariates(table, [time, status, entry, low, high, count, mode], RESERVED)}
    from plain`);
  await refuseFaultyRows(table, "read_lives", [
    ...(exact
      ? [
          {
            when: "low_end is null or low_end < 0 or not isfinite(low_end)",
            says: "time must be a number from 0",
            shows: "time_text",
          },
          {
            when: "said is null or said not in ('1', '0', 'failed', 'suspended', 'running')",
            says: "status must be 1 or failed, 0 or suspended or running",
            shows: "said_text",
          },
        ]
      : [
          {
            when: "low_end is null or high_end is null or low_end < 0 or high_end < low_end or not isfinite(low_end) or isnan(high_end)",
            says: "time_low must be a number from 0, time_high not below it",
            shows: "time_text",
          },
        ]),
    {
      when: "entry is null or entry < 0 or (entry > 0 and entry >= low_end)",
      says: "entry must be a number from 0, below the time",
      shows: "entry_text",
    },
    {
      when: "weight is null or weight <= 0 or weight <> floor(weight)",
      says: "count must be a whole number above 0",
      shows: "count_text",
    },
  ]);
  const highEnd = exact ? "case when said in ('1', 'failed') then low_end else 'infinity'::double end" : "high_end";
  const zero = "low_end = 0 and high_end in (0, 'infinity'::double)";
  const entity = await numbered(table, "entity", unit);
  const place = await numbered(table, "place", position);
  await table.connection.run(`create temp view studied as
    select * exclude ("row ", low_end, high_end, mode, said, time_text, entry_text, count_text, entity, entity_name, entity_count, place_count ${exact ? ", said_text" : ""}),
           "row " as life_id,
           coalesce(entity, entity_count + "row ")::integer as entity, ${unit === undefined ? '"row "::varchar' : "entity_name"} as entity_name,
           low_end as time_low, high_end as time_high, low_end < high_end and not isinf(high_end) as within, null::double as last_seen, false as assumed_running, null::varchar as life,
           case when not isinf(high_end) then nullif(trim(mode), '') end as mode,
           case when isinf(high_end) then case said when 'suspended' then 'suspended' else 'running' end else 'failed' end as status,
           case when ${zero} then 'zero_length' end as left_out
    from (select * ${exact ? "" : "exclude (high_end)"}, ${highEnd} as high_end from read_lives) ${entity} ${place}`);
}

/**
 * Numbers the units or the positions by name.
 * @returns SQL that joins to each life the number of its own, null where it names none, and how many there are
 */
async function numbered(table: OpenPlainTable, name: "entity" | "place", column: string | undefined): Promise<string> {
  if (column === undefined) return `cross join (select null::integer as ${name}, 0 as ${name}_count)`;
  await table.connection.run(`create temp table ${name}_number as
    select (row_number() over (order by ${name}_name))::integer as ${name}, ${name}_name
    from (select distinct ${name}_name from read_lives where ${name}_name is not null)`);
  return `left join ${name}_number using (${name}_name) cross join (select count(*) as ${name}_count from ${name}_number)`;
}
