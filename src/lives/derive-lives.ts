import type { DuckDBConnection, DuckDBValue } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { rows } from "../store/rows.ts";
import { runStep } from "../store/run-step.ts";
import { bandEdges } from "../workspace/band-edges.ts";
import type { Configuration } from "../workspace/configuration.ts";
import { isDay } from "../workspace/day.ts";
import { inUnitsOf } from "./units.ts";

/** The steps from records to lives, in their order. */
export const STEPS = [
  "30_card",
  "31_as_of",
  "32_unit",
  "33_visit",
  "34_follow_up",
  "35_evidence",
  "35_judged",
  "35_meter",
  "36_hours_at",
  "37_build",
  "38_life",
  "39_installation",
] as const;

/** What lives depend on beside the records. */
export type LivesRequest = {
  configuration: Pick<
    Configuration,
    "as_of" | "fleets" | "slots" | "display" | "bands" | "failed_when" | "hidden_until_opened" | "rollover_at"
  >;
  /** Day up to which events are looked at, YYYY-MM-DD; in place of the workspace's. */
  asOf?: string;
  /** False where `installation` is not asked of: it need not be derived then. */
  installations?: boolean;
  /** True where `known_unit` is asked of, which lives that are kept come without. */
  units?: boolean;
  /** True where `built` is asked of, which lives come without. */
  built?: boolean;
};

/** The as-of date used, and the latest date in the records, YYYY-MM-DD. */
export type Derived = { asOf: string; latestOn: string };

/**
 * Builds the temporary tables `life` and `installation` (and those of the steps before them) from the records, as they would
 * have been on the as-of date: the asked one, else the workspace's, else the latest date in the records.
 * Works on a read-only store; calling it again builds them anew.
 * @returns the as-of date used, and the latest date in the records
 * @throws UserError if the records hold no date at all, or `asOf` is no date
 * @example const { asOf } = await deriveLives(store.connection, { configuration: workspace.configuration });
 */
export async function deriveLives(
  connection: DuckDBConnection,
  { configuration, asOf, installations = true }: LivesRequest,
): Promise<Derived> {
  if (asOf !== undefined && !isDay(asOf)) {
    throw new UserError(`Cannot look at the records as of "${asOf}": it is no day; write it as YYYY-MM-DD`, 2);
  }
  const values = valuesOf(configuration, asOf);
  for (const step of STEPS) {
    if (step === "39_installation" && !installations) continue;
    await runStep(connection, step, values);
    if (step === "31_as_of") await latestDay(connection);
  }
  return latestDay(connection);
}

/** What the steps are bound with. */
export function valuesOf(
  configuration: LivesRequest["configuration"],
  asOf: string | undefined,
): Record<string, DuckDBValue> {
  return {
    as_of: asOf ?? configuration.as_of ?? null,
    fleets: JSON.stringify(configuration.fleets),
    slots: JSON.stringify(Object.keys(configuration.slots)),
    band_edges: JSON.stringify(bandEdges(configuration)),
    ...inUnitsOf(configuration.display),
    worn_is_failed: configuration.failed_when.includes("worn"),
    hidden_until_opened: configuration.hidden_until_opened,
    rollover_at: configuration.rollover_at,
  };
}

async function latestDay(connection: DuckDBConnection): Promise<Derived> {
  const [row] = await rows(connection, "select as_of::varchar as day, latest_on::varchar as latest_on from as_of");
  const asOf = row?.["day"];
  const latestOn = row?.["latest_on"];
  if (typeof asOf === "string" && typeof latestOn === "string") return { asOf, latestOn };
  throw new UserError(
    'Cannot derive lives: no record in the store has a date; "framelife audit" says what became of each row, and what to mend',
  );
}
