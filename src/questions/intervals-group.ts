import { meanTimeBetween } from "../stats/rate/mean-time-between.ts";
import { meanCumulativeFunction } from "../stats/recurrence/mean-count.ts";
import { kaplanMeier } from "../stats/survival/kaplan-meier.ts";
import { survivalQuantile } from "../stats/survival/survival-quantile.ts";
import type { Estimate, IntervalsGroup, MeanCountStep, SurvivalStep } from "./answer.ts";
import { ENDS, type GroupOfHistories } from "./group-histories.ts";
import type { IntervalsQuestion } from "./scope.ts";

/** Everything that `intervals` says of one group. */
export function intervalsGroup(group: GroupOfHistories, { events, level }: IntervalsQuestion): IntervalsGroup {
  const counted = countedEnds(events);
  const exposure = totalService(group);
  const number = (kinds: ReadonlySet<number>) => group.ends.reduce((sum, end) => sum + (kinds.has(end) ? 1 : 0), 0);
  const kinds = { all: countedEnds("all"), failure: countedEnds("failure"), planned: countedEnds("planned") };
  const mean = (kind: keyof typeof kinds): Estimate => meanTimeBetween(number(kinds[kind]), exposure, level);
  const curve = survivalOfIntervals(group, counted, level);
  return {
    by: group.by,
    units: group.units,
    exposure,
    events: { failure: number(kinds.failure), planned: number(kinds.planned) },
    mtbr: { all: mean("all"), failure: mean("failure"), planned: mean("planned") },
    survival: curve.steps,
    medianInterval: curve.median,
    mcf: meanCount(group, counted, level),
    basis: group.basis,
    warnings: warnings(group, number(counted)),
  };
}

function countedEnds(events: IntervalsQuestion["events"]): ReadonlySet<number> {
  const names = events === "all" ? ["failure", "planned", "unknown"] : [events];
  return new Set(ENDS.flatMap((name, code) => (names.includes(name) ? [code] : [])));
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

/** Mean number of rebuilds per unit against its service time under observation. */
function meanCount(
  { entity, entered, start, stop, ends }: GroupOfHistories,
  counted: ReadonlySet<number>,
  level: number,
): MeanCountStep[] {
  const entry: number[] = [];
  const end: number[] = [];
  const unit: number[] = [];
  const time: number[] = [];
  let served = 0;
  for (let row = 0; row < entity.length; row++) {
    const at = entity[row]!;
    if (row === 0 || at !== entity[row - 1]) {
      served = entered[row]!;
      entry[at] = served;
    }
    served += stop[row]! - start[row]!;
    end[at] = served;
    if (counted.has(ends[row]!)) {
      unit.push(at);
      time.push(served);
    }
  }
  return meanCumulativeFunction(
    {
      unit: Int32Array.from(unit),
      time: Float64Array.from(time),
      entry: Float64Array.from(entry),
      end: Float64Array.from(end),
    },
    { level },
  );
}

function warnings({ basis, units }: GroupOfHistories, events: number): string[] {
  const found: string[] = [];
  if (events > 0 && events < 5)
    found.push(`only ${events} rebuilds of the kind counted: read the limits, not the estimate`);
  if (units === 1)
    found.push("one unit only: its mean number of rebuilds has no spread between units to take limits from");
  if (basis.unknown > 0)
    found.push(
      `${basis.unknown} rebuilds give no reason: they count as rebuilds, but neither as failures nor as planned`,
    );
  return found;
}
