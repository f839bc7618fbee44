import type { DuckDBConnection } from "@duckdb/node-api";
import type { NamedPipeline } from "../../workspace/workspace.ts";
import { type Correction, type Corrections, correctionId } from "./correction.ts";
import { correctedRecords, correctionOutcomes } from "./correction-outcomes.ts";

/** A line of the corrections file, and what is to be said of it. */
type CorrectionNote = { line: number; text: string };

/** What became of the corrections; of kinds of record of which not all pipelines were run, nothing is said. */
export type CorrectionsReport = {
  /** Lines whose value was taken, or stands in the export by now. */
  applied: number;
  /** Lines whose old value stands there no more. */
  stale: CorrectionNote[];
  /** Lines that no record of the exports answers to. */
  unmatched: CorrectionNote[];
  /** Lines that have changed more than one record. */
  several: CorrectionNote[];
};

const NONE: CorrectionsReport = { applied: 0, stale: [], unmatched: [], several: [] };

/** What the store knows of the corrections, those in files that were not read anew among them. */
export async function correctionsReport(
  connection: DuckDBConnection,
  corrections: Corrections | undefined,
  pipelines: { all: NamedPipeline[]; run: NamedPipeline[] },
): Promise<CorrectionsReport> {
  const known = (corrections?.lines ?? []).filter(({ record }) =>
    pipelines.all.every((named) => named.pipeline.record !== record || pipelines.run.includes(named)),
  );
  if (known.length === 0 || corrections === undefined) return NONE;
  const records = await correctedRecords(connection);
  const outcomes = await correctionOutcomes(connection);
  const notes = (lines: Correction[], text: (correction: Correction) => string) =>
    lines.map((correction) => ({
      line: correction.line,
      text: `line ${correction.line} of ${corrections.name}: ${text(correction)}`,
    }));
  const stale = known.filter(({ line }) => outcomes.get(line) === "stale");
  const unmatched = known.filter(({ line }) => !outcomes.has(line));
  return {
    applied: known.length - stale.length - unmatched.length,
    stale: notes(
      stale,
      ({ field, old, ...which }) =>
        `${field} of ${nameOf(which)} is not "${old}" any more; look at it with "framelife audit"`,
    ),
    unmatched: notes(
      unmatched,
      ({ field, ...which }) =>
        `no export has a cell for ${field} of ${nameOf(which)}; correct the line, or take it out`,
    ),
    several: notes(
      known.filter(({ line }) => (records.get(line) ?? 0) > 1),
      ({ field, ...which }) =>
        `${field} of ${nameOf(which)} was changed in ${records.get(which.line)} records, which "framelife audit" lists; ${oneOf(which)}, or leave it where all are meant`,
    ),
  };
}

/** How to say which of several records is meant. */
function oneOf({ record, id, place, day }: Omit<Correction, "field">): string {
  if (record !== "stock") return "write the fleet of the one that is meant";
  return `write the place, and the day if need be, of the one that is meant: "${id} | ${place ?? "PLACE"} | ${day ?? "YYYY-MM-DD"}"`;
}

function nameOf({ fleet, ...told }: Pick<Correction, "record" | "id" | "place" | "day" | "fleet">): string {
  return [told.record, `"${correctionId(told)}"`, ...(fleet === "" ? [] : [`of ${fleet}`])].join(" ");
}
