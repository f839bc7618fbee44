import { UserError } from "../errors.ts";
import {
  checkRenamed,
  covariates,
  type OpenPlainTable,
  plainColumn,
  plainNumber,
  refuseFaultyRows,
} from "./plain-table.ts";

const OWN = ["frame", "fitter", "reading"] as const;

/** Names that `gauge_rows` has for itself. */
const RESERVED = [...OWN, "reading_text"];

/**
 * Turns a plain table into `gauge_rows`: one row a reading, of a frame by a fitter; a reading that was not taken is null.
 * Columns: `frame, fitter, reading`, and any other.
 * @throws UserError with rows and values where the table can't be used
 */
export async function studyPlainReadings(table: OpenPlainTable, renamed: Record<string, string>): Promise<void> {
  checkRenamed(renamed, OWN);
  const [frame, fitter, reading] = OWN.map((name) => plainColumn(table, renamed, name));
  if (frame === undefined || fitter === undefined || reading === undefined) {
    throw new UserError(
      `Cannot use ${table.path}: it needs frame, fitter and reading; its columns are ${table.headers.join(", ")}; name others with --columns frame=...,fitter=...,reading=...`,
    );
  }
  await table.connection.run(`create temp table read_readings as
    select "row ", trim(${frame}::varchar) as frame, trim(${fitter}::varchar) as fitter,
           ${plainNumber(table, reading, "null")} as reading, trim(${reading}::varchar) as reading_text${await covariates(table, [frame, fitter, reading], RESERVED)}
    from plain`);
  await refuseFaultyRows(table, "read_readings", [
    { when: "coalesce(frame, '') = ''", says: "frame must not be blank", shows: "frame" },
    { when: "coalesce(fitter, '') = ''", says: "fitter must not be blank", shows: "fitter" },
    {
      when: "coalesce(reading_text, '') <> '' and (reading is null or not isfinite(reading))",
      says: "reading must be a number, with a point for decimals and no unit, or blank where none was taken",
      shows: "reading_text",
    },
  ]);
  await table.connection.run("create temp view gauge_rows as select * exclude (reading_text) from read_readings");
}
