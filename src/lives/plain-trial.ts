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

const OWN = ["build", "assigned", "built", "time", "status", "stratum", "unit", "block"] as const;

const RESERVED = [...OWN, "failed", "time_text", "said", "said_text"];

/**
 * Turns a plain table into `trial_rows`: one row a build of a trial; one that has not been built yet has neither time nor status.
 * Columns: `build, assigned, built, time, status[, stratum, unit, block]`, and any other.
 * @throws UserError with rows and values where the table can't be used
 */
export async function studyPlainTrial(table: OpenPlainTable, renamed: Record<string, string>): Promise<void> {
  checkRenamed(renamed, OWN);
  const [build, assigned, built, time, status, stratum, unit, block] = OWN.map((name) =>
    plainColumn(table, renamed, name),
  );
  if (
    build === undefined ||
    assigned === undefined ||
    built === undefined ||
    time === undefined ||
    status === undefined
  ) {
    throw new UserError(
      `Cannot use ${table.path}: it needs build, assigned, built, time and status; its columns are ${table.headers.join(", ")}; name others with --columns build=...,assigned=...`,
    );
  }
  const text = (column: string | undefined) =>
    column === undefined ? "null::varchar" : `nullif(trim(${column}::varchar), '')`;
  await table.connection.run(`create temp table read_trial as
    select "row ", ${text(build)} as build, ${text(assigned)} as assigned, ${text(built)} as built,
           ${plainNumber(table, time, "null")} as time, ${text(time)} as time_text,
           nullif(${plainWord(table, status)}, '') as said, ${text(status)} as said_text,
           ${text(stratum)} as stratum, ${text(unit)} as unit, ${text(block)} as block${await covariates(
             table,
             [build, assigned, built, time, status, stratum, unit, block],
             RESERVED,
           )}
    from plain`);
  const open = "time_text is null and said is null";
  await refuseFaultyRows(table, "read_trial", [
    { when: "build is null", says: "build must not be blank", shows: "build" },
    { when: "assigned is null", says: "assigned must not be blank", shows: "assigned" },
    {
      when: `not (${open}) and (time is null or time <= 0 or not isfinite(time))`,
      says: "time must be a number above 0, or blank with the status where nothing was built yet",
      shows: "time_text",
    },
    {
      when: `not (${open}) and (said is null or said not in ('1', '0', 'failed', 'suspended', 'running'))`,
      says: "status must be 1 or failed, 0 or suspended or running",
      shows: "said_text",
    },
    ...(stratum === undefined
      ? []
      : [{ when: "stratum is null", says: "stratum must not be blank where others have one", shows: "stratum" }]),
    ...(block === undefined
      ? []
      : [{ when: "block is null", says: "block must not be blank where others have one", shows: "block" }]),
  ]);
  await refuseTwice(table);
  await table.connection.run(
    `create temp view trial_rows as select * exclude (time_text, said_text), said in ('1', 'failed') as failed, ${open} as not_built from read_trial`,
  );
}

async function refuseTwice(table: OpenPlainTable): Promise<void> {
  const twice = await table.connection.runAndReadAll(
    `select build from read_trial group by build having count(*) > 1 order by min("row ") limit 1`,
  );
  const [row] = twice.getRows();
  if (row === undefined) return;
  throw new UserError(`Cannot use ${table.path}: build "${row[0]}" stands twice; give each build one row`);
}
