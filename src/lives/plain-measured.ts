import { UserError } from "../errors.ts";
import {
  checkRenamed,
  covariates,
  type OpenPlainTable,
  plainColumn,
  plainNumber,
  refuseFaultyRows,
} from "./plain-table.ts";

const OWN = ["value", "low", "high", "date", "model"] as const;

/** Names that `built` has for itself. */
const RESERVED = [
  ...OWN,
  ...["place", "fleet", "card", "unit", "month", "fitter", "built_on", "end_play", "end_play_unshimmed", "race_depth"],
  ...["spigot_height", "shims", "days", "ends", "left_out", "value_text", "low_text", "high_text", "date_text"],
];

/**
 * Turns a plain table into `built`: one row a measured value, in the order of their dates, or as they stand where they have none; a value
 * that was not taken is null. Columns: `value[, low, high, date, model]`, and any other.
 * @throws UserError with rows and values where the table can't be used
 */
export async function studyPlainMeasured(table: OpenPlainTable, renamed: Record<string, string>): Promise<void> {
  checkRenamed(renamed, OWN);
  const [value, low, high, date, model] = OWN.map((name) => plainColumn(table, renamed, name));
  if (value === undefined) {
    throw new UserError(
      `Cannot use ${table.path}: it needs value; its columns are ${table.headers.join(", ")}; name another with --columns value=...`,
    );
  }
  const text = (column: string | undefined) =>
    column === undefined ? "null::varchar" : `nullif(trim(${column}::varchar), '')`;
  const number = (column: string | undefined) =>
    column === undefined ? "null::double" : plainNumber(table, column, "null");
  await table.connection.run(`create temp table read_measured as
    select "row ", ${number(value)} as value, ${text(value)} as value_text, ${number(low)} as low, ${text(low)} as low_text,
           ${number(high)} as high, ${text(high)} as high_text, try_strptime(${text(date)}, '%Y-%m-%d')::date as date, ${text(date)} as date_text,
           ${text(model)} as model${await covariates(table, [value, low, high, date, model], RESERVED)}
    from plain`);
  await refuseFaultyRows(table, "read_measured", [
    ...(["value", "low", "high"] as const).map((name) => ({
      when: `${name}_text is not null and (${name} is null or not isfinite(${name}))`,
      says: `${name} must be a number, with a point for decimals and no unit, or blank where there is none`,
      shows: `${name}_text`,
    })),
    { when: "low > high", says: "low must not lie above high", shows: "low_text || ' over ' || high_text" },
    {
      when: "date_text is not null and date is null",
      says: "date must be a day as YYYY-MM-DD, or blank",
      shows: "date_text",
    },
  ]);
  await table.connection.run(`create temp view built as
    select * exclude ("row ", value_text, low_text, high_text, date_text),
           row_number() over (order by date nulls first, "row ")::integer as place, null::varchar as fleet, 'row ' || "row " as card,
           null::varchar as unit, date as built_on, strftime(date, '%Y-%m') as month, null::varchar as fitter, value as end_play,
           null::double as end_play_unshimmed, null::double as race_depth, null::double as spigot_height, null::double as shims,
           null::double as days, null::varchar as ends, null::varchar as left_out
    from read_measured`);
}
