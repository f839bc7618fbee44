import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { spendingBounds } from "../stats/trial/spending-bounds.ts";
import type { Protocol } from "../workspace/protocol.ts";
import { rowsCommand } from "./rows-command.ts";
import type { Source } from "./scope.ts";
import type { TrialReadAnswer } from "./trial-answer.ts";
import { type TrialBuilds, trialBuilds } from "./trial-builds.ts";
import { trialComparison } from "./trial-comparison.ts";
import { readSentence, readWarnings } from "./trial-read-words.ts";

/** What `trial read` is asked: by a protocol, or by failures planned, or of this one look. */
export type TrialReading = {
  level: number;
  planned: number | null;
  earlier: number[];
  name: string | null;
  protocol: Protocol | null;
  seed: number;
};

/** How a trial stands. The connection holds `trial_rows`. */
export async function askTrialRead(
  connection: DuckDBConnection,
  { level, planned, earlier, name, protocol, seed }: TrialReading,
  source: Extract<Source, { kind: "table" }>,
): Promise<TrialReadAnswer> {
  const builds = await trialBuilds(connection, source.table.path, protocol?.plan ?? null);
  const { arms, assigned, built, basis } = builds;
  const { p: allowed, reason } = allowedNow(basis.failed, { planned, earlier, level });
  const asked = { level: allowed === null ? null : 1 - allowed, seed };
  const asAssigned = trialComparison(builds, assigned, { ...asked, randomised: true });
  const answer: TrialReadAnswer = {
    schema: 1,
    command: "trial read",
    answer: "",
    asOf: null,
    clock: null,
    level,
    basis,
    warnings: [],
    rows: rowsCommand("life", {}, source),
    name,
    arms,
    asAssigned,
    asBuilt: built.some((arm) => arm >= 0)
      ? trialComparison(builds, built, { ...asked, randomised: false })
      : { reason: "of no build it is on record how it came out" },
    missed: arms.map((arm, place) => missedOf(builds, arm, place)),
    planned,
    earlier,
    allowed,
    ...(reason !== undefined && { reason }),
    verdict: verdictOf(asAssigned, allowed, planned !== null && basis.failed < planned),
  };
  answer.answer = readSentence(answer);
  answer.warnings = readWarnings(answer, builds, protocol);
  return answer;
}

/** What p must not exceed at this look, given those before it. */
function allowedNow(
  failures: number,
  { planned, earlier, level }: Pick<TrialReading, "planned" | "earlier" | "level">,
): { p: number | null; reason?: string } {
  if (planned === null) return { p: 1 - level };
  if (failures === 0) return { p: null, reason: "there are no failures yet" };
  const { looks, ...none } = spendingBounds([...earlier, failures], { planned, level });
  if (looks === null) {
    const reason = "reason" in none ? none.reason : "";
    throw new UserError(
      `Cannot use --earlier ${earlier.join(",")}: ${reason}; name the failures of earlier looks, rising`,
      2,
    );
  }
  return looks.at(-1)!;
}

function missedOf({ assigned, built }: TrialBuilds, arm: string, place: number): TrialReadAnswer["missed"][number] {
  const of = assigned.reduce((sum, one, at) => sum + (one === place && built[at]! >= 0 ? 1 : 0), 0);
  const hit = assigned.reduce((sum, one, at) => sum + (one === place && built[at] === place ? 1 : 0), 0);
  return { arm, builds: of - hit, of };
}

function verdictOf(
  { p, arms }: TrialReadAnswer["asAssigned"],
  allowed: number | null,
  goesOn: boolean,
): TrialReadAnswer["verdict"] {
  if (p !== null && allowed !== null && p <= allowed) return arms[0]!.failed < arms[0]!.expected ? "longer" : "shorter";
  return goesOn ? "go on" : "no difference shown";
}
