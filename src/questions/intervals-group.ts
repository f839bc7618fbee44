import { meanTimeBetween } from "../stats/rate/mean-time-between.ts";
import { meanCumulativeFunction } from "../stats/recurrence/mean-count.ts";
import type { RecurrentEvents } from "../stats/recurrence/recurrent-events.ts";
import { kaplanMeier } from "../stats/survival/kaplan-meier.ts";
import { survivalQuantile } from "../stats/survival/survival-quantile.ts";
import type { IntervalsGroup, SurvivalStep } from "./answer.ts";
import { degreeOfRepairOf, notKnown } from "./degree-of-repair.ts";
import type { Estimate } from "./estimate.ts";
import { ENDS, type GroupOfHistories } from "./group-histories.ts";
import { powerLawOf, trendOf } from "./recurrence.ts";
import type { IntervalsQuestion } from "./scope.ts";
import { countedEnds, serviceEvents, whileWatched } from "./service-histories.ts";
import { chanceInWords, count, percent } from "./wording.ts";

/** Everything that `intervals` says of one group; `closely` where there are few enough groups to look at each so. */
export function intervalsGroup(
  group: GroupOfHistories,
  { events, level, seed }: IntervalsQuestion,
  closely: boolean,
): IntervalsGroup {
  const counted = countedEnds(events);
  const exposure = totalService(group);
  const number = (kinds: ReadonlySet<number>) => group.ends.reduce((sum, end) => sum + (kinds.has(end) ? 1 : 0), 0);
  const kinds = { all: countedEnds("all"), failure: countedEnds("failure"), planned: countedEnds("planned") };
  const mean = (kind: keyof typeof kinds, over = exposure): Estimate => meanTime(number(kinds[kind]), over, level);
  const seen = seenService(group);
  const curve = survivalOfIntervals(group, counted, level);
  const all = serviceEvents(group, counted);
  const watched = whileWatched(all);
  const answer: IntervalsGroup = {
    by: group.by,
    units: group.units,
    exposure,
    events: { failure: number(kinds.failure), planned: number(kinds.planned) },
    mtbr: { all: mean("all"), failure: mean("failure"), planned: mean("planned") },
    unknownAsFailure:
      group.basis.unknown === 0 ? null : { failure: meanTime(number(FAILURE_OR_UNKNOWN), exposure, level) },
    lastSeen: seen === null ? null : { all: mean("all", seen), failure: mean("failure", seen) },
    survival: curve.steps,
    medianInterval: curve.median,
    mcf: meanCumulativeFunction(watched, { level }),
    trend: trendOf(watched),
    powerLaw: powerLawOf(group, counted, { level, seed, closely }),
    degreeOfRepair: closely ? degreeOfRepairOf(group, level) : notKnown("over 50 groups are asked of at once"),
    basis: group.basis,
    warnings: [],
  };
  const lost = all.time.length - watched.time.length;
  answer.warnings = [...warnings(answer, all, lost), ...readingWarnings(answer), ...trendWarnings(answer)];
  return answer;
}

const FAILURE_OR_UNKNOWN: ReadonlySet<number> = new Set([ENDS.indexOf("failure"), ENDS.indexOf("unknown")]);

function meanTime(events: number, exposure: number, level: number): Estimate {
  if (exposure > 0) return meanTimeBetween(events, exposure, level);
  return { estimate: null, low: null, high: null, reason: "no service under observation" };
}

/** Service up to the last evidence of any kind; null where no stretch is only assumed to run on. */
function seenService({ start, stop, seenStop }: GroupOfHistories): number | null {
  if (seenStop.every(Number.isNaN)) return null;
  let sum = 0;
  for (let row = 0; row < start.length; row++)
    sum += (Number.isNaN(seenStop[row]!) ? stop[row]! : seenStop[row]!) - start[row]!;
  return sum;
}

/** Service time under observation, added in the fixed order of the rows. */
function totalService({ start, stop }: GroupOfHistories): number {
  let sum = 0;
  for (let row = 0; row < start.length; row++) sum += stop[row]! - start[row]!;
  return sum;
}

/** Kaplan-Meier of the times between rebuilds; stretches that entered late, and those of no length, are no times between rebuilds. */
function survivalOfIntervals(
  { start, stop, ends, whole }: GroupOfHistories,
  counted: ReadonlySet<number>,
  level: number,
): { steps: SurvivalStep[]; median: Estimate } {
  const used = Array.from(start.keys()).filter((row) => whole[row] === 1 && stop[row]! > start[row]!);
  if (used.length === 0) {
    return {
      steps: [],
      median: { estimate: null, low: null, high: null, reason: "no whole interval between rebuilds" },
    };
  }
  const curve = kaplanMeier(
    {
      time: Float64Array.from(used, (row) => stop[row]! - start[row]!),
      failed: Uint8Array.from(used, (row) => (counted.has(ends[row]!) ? 1 : 0)),
    },
    { level, limits: "log-log" },
  );
  const steps = curve
    .filter(({ failed }) => failed > 0)
    .map(({ time, atRisk, failed, survival, se, low, high }) => ({
      time,
      atRisk,
      failed,
      estimate: survival,
      se,
      low,
      high,
    }));
  return { steps, median: survivalQuantile(curve, 0.5) };
}

/** What is counted: rebuilds of frames, or of one of their slots what was replaced. */
function eventOf({ by }: Pick<IntervalsGroup, "by">): "rebuild" | "replacement" {
  return by["slot"] === undefined ? "rebuild" : "replacement";
}

function warnings({ by, basis }: IntervalsGroup, { time, entry }: RecurrentEvents, lost: number): string[] {
  const found: string[] = [];
  const what = eventOf({ by });
  const events = time.length;
  if (events > 0 && events < 5)
    found.push(`only ${count(events, what)} of the kind counted: read the limits, not the estimate`);
  if (entry.length === 1) {
    found.push(`one history only: the mean number of ${what}s has no spread between histories to take limits from`);
  }
  if (basis.unknown > 0) {
    found.push(
      `${count(basis.unknown, `${what} that says`, `${what}s that say`)} nothing of failure: counted in all, but neither as failures nor as ${what === "rebuild" ? "planned" : "unfailed"}`,
    );
  }
  if (lost > 0)
    found.push(`${count(lost, what)} before any service under observation: left out of the mean number per unit`);
  return found;
}

/** Relative change of the mean time between failures from which another reading of the records is called out. */
const WORTH_SAYING = 0.1;

function readingWarnings({ by, mtbr, unknownAsFailure, lastSeen }: IntervalsGroup): string[] {
  return [
    {
      words: `${eventOf({ by })}s that say nothing of failure are taken as failures`,
      other: unknownAsFailure?.failure,
    },
    {
      words: "open intervals are stopped at their last evidence instead of followed to the as-of date",
      other: lastSeen?.failure,
    },
  ].flatMap(({ words, other }) => {
    const change = (other?.estimate ?? Number.NaN) / (mtbr.failure.estimate ?? Number.NaN) - 1;
    if (!(Math.abs(change) > WORTH_SAYING)) return [];
    return [
      `where ${words} the mean time between failures moves by ${change > 0 ? "+" : "-"}${percent(Math.abs(change))}`,
    ];
  });
}

/** Two-sided p from which a trend is called out. */
const CREDIBLE = 0.05;

/** Gaps that take a trend with them, or a spread that only looks like one. */
function trendWarnings({ by, trend: { laplace, lewisRobinson } }: IntervalsGroup): string[] {
  const what = eventOf({ by });
  const plain = laplace.p !== null && laplace.p < CREDIBLE;
  const robust = lewisRobinson.p !== null && lewisRobinson.p < CREDIBLE;
  if (robust) {
    const how = lewisRobinson.direction === "deteriorating" ? "closer together" : "further apart";
    return [
      `${what}s come ${how} as service goes on (Lewis-Robinson p ${chanceInWords(lewisRobinson.p!)}): one mean time between them does not stay true`,
    ];
  }
  if (!plain) return [];
  return [
    `${what}s seem to come ${laplace.direction === "deteriorating" ? "closer together" : "further apart"} by a test that takes their rate as constant (Laplace p ${chanceInWords(laplace.p!)}), not by the ones that allow for other spreads: it may be no trend`,
  ];
}
