import { UserError } from "../errors.ts";
import {
  checkRenamed,
  covariates,
  type OpenPlainTable,
  plainColumn,
  plainNumber,
  refuseFaultyRows,
} from "./plain-table.ts";

const OWN = ["unit", "events", "exposure", "expected", "position"] as const;

/** Names that `counted_rows` has for itself. */
const RESERVED = "entity place events exposure expected events_text exposure_text expected_text".split(" ");

/** Whether a plain table holds counts, not histories. */
export function hasCounts(table: OpenPlainTable, renamed: Record<string, string>): boolean {
  const has = (name: string) =>
    table.headers.some((header) => header.toLowerCase() === (renamed[name] ?? name).toLowerCase());
  return has("events") && has("exposure");
}

/**
 * Turns a plain table of counts into `counted_rows`: one row per unit, or per unit and position.
 * Columns: `unit, events, exposure[, expected, position]`, and any covariate.
 * @throws UserError with rows and values where the table can't be used
 */
export async function studyPlainCounts(table: OpenPlainTable, renamed: Record<string, string>): Promise<void> {
  checkRenamed(renamed, OWN);
  const [unit, events, exposure, expected, position] = OWN.map((name) => plainColumn(table, renamed, name));
  if (unit === undefined || events === undefined || exposure === undefined) {
    throw new UserError(
      `Cannot use ${table.path}: it needs unit, events and exposure, or unit, time and event; its columns are ${table.headers.join(", ")}; name others with --columns unit=...,events=...,exposure=...`,
    );
  }
  await table.connection.run(`create temp table read_counts as
    select "row ", ${unit}::varchar as entity, ${position ?? "null"}::varchar as place,
           ${plainNumber(table, events, "null")} as events, ${events} as events_text,
           ${plainNumber(table, exposure, "null")} as exposure, ${exposure} as exposure_text,
           ${expected === undefined ? "null::double" : plainNumber(table, expected, "null")} as expected, ${expected ?? "null"} as expected_text${await covariates(table, [unit, events, exposure, expected, position], RESERVED)}
    from plain`);
  await refuseFaultyRows(table, "read_counts", [
    { when: "entity is null or trim(entity) = ''", says: "unit must not be blank", shows: "entity" },
    {
      when: "events is null or events < 0 or events <> floor(events) or not isfinite(events)",
      says: "events must be a whole number from 0",
      shows: "events_text",
    },
    {
      when: "exposure is null or exposure < 0 or not isfinite(exposure)",
      says: "exposure must be a number from 0",
      shows: "exposure_text",
    },
    ...(expected === undefined
      ? []
      : [
          {
            when: "expected is null or expected < 0 or not isfinite(expected)",
            says: "expected must be a number from 0",
            shows: "expected_text",
          },
        ]),
    {
      when: "events > 0 and exposure = 0",
      says: "exposure must be above 0 where there are events",
      shows: "exposure_text",
    },
  ]);
  await table.connection.run(
    `create temp view counted_rows as select * exclude ("row ", events_text, exposure_text, expected_text) from read_counts`,
  );
}
