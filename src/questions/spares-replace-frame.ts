import { replacementAgeOnGrid } from "../stats/spares/replacement-age-on-grid.ts";
import { NEVER_REACHED } from "../stats/spares/replacement-costs.ts";
import type { WeibullDraws } from "../stats/spares/weibull-draws.ts";
import { WHOLE_FRAME } from "../workspace/whole-frame.ts";
import type { PlannedAge } from "./spares-answer.ts";
import type { ReplaceCosts } from "./spares-costs.ts";

/** The slots of a fleet's frames that are renewed whenever a frame is opened: their laws, as fitted and as drawn. */
export type FrameLaws = { shape: number; scale: number; draws: WeibullDraws }[];

/** Points of the survival curve, to an age that next to no frame reaches. */
const POINTS = 400;
const NEXT_TO_NONE = 1e-4;
/** Draws by which a saving is told. */
const DRAWS = 400;

export type FrameAsked = { fleet: string; failed: number; costs: ReplaceCosts; level: number; aYear: number };

/**
 * Whether to rebuild whole frames at a planned age: a frame fails with the first of its slots, and a rebuild renews them all, so that its
 * survival is the product of theirs.
 */
export function plannedFrameAge(laws: FrameLaws, { fleet, failed, costs, level, aYear }: FrameAsked): PlannedAge {
  const own = { fleet, slot: WHOLE_FRAME, shape: null, failed };
  const nothing = { ...own, age: null, saving: null, aYear: null, chanceOfSaving: null, bestAge: null, curve: [] };
  const ages = agesOf(laws);
  if (ages === null) {
    return { ...nothing, worth: false, reason: "of too few slots is a law known" };
  }
  const found = replacementAgeOnGrid({ age: ages, survival: survivalOf(laws, ages) }, costs);
  // The curve goes on until next to no frame is left: a best age beyond it is one that none reaches.
  if (!found.found) return { ...nothing, worth: false, reason: NEVER_REACHED };
  const draws = Math.min(DRAWS, laws[0]!.draws.shape.length);
  const savings = Float64Array.from({ length: draws }, (_, draw) => {
    const drawn = laws.map(({ draws: { shape, scale } }) => ({ shape: shape[draw]!, scale: scale[draw]! }));
    return savedAt(drawn, ages, found.age, costs);
  }).toSorted();
  const at = (p: number) => savings[Math.min(draws - 1, Math.floor(p * draws))]!;
  const [low, high] = [at((1 - level) / 2), at((1 + level) / 2)];
  const worth = low > 0;
  const money = (share: number) => share * found.runToFailureRate * aYear;
  return {
    ...own,
    worth,
    age: found.age,
    saving: { estimate: found.saving, low, high },
    aYear: { estimate: money(found.saving), low: money(low), high: money(high) },
    chanceOfSaving: savings.filter((saving) => saving > 0).length / draws,
    bestAge: null,
    curve: curveOf(survivalOf(laws, ages), ages, costs),
    ...(worth ? {} : { reason: "what it saves is not credibly above nothing" }),
  };
}

type Law = { shape: number; scale: number };

/** Ages closer together early on, where shapes under 1 fall fast. */
function agesOf(laws: FrameLaws): Float64Array | null {
  if (laws.length === 0) return null;
  let last = Math.min(...laws.map(({ scale }) => scale));
  while (survivalAt(laws, last) > NEXT_TO_NONE) last *= 1.3;
  return Float64Array.from({ length: POINTS + 1 }, (_, at) => last * (at / POINTS) ** 1.5);
}

function survivalAt(laws: Law[], age: number): number {
  return Math.exp(-laws.reduce((sum, { shape, scale }) => sum + (age / scale) ** shape, 0));
}

function survivalOf(laws: Law[], ages: Float64Array): Float64Array {
  return ages.map((age) => survivalAt(laws, age));
}

/** Share of the cost of waiting for failures that replacing at one age saves, below 0 where it costs more. */
function savedAt(laws: Law[], ages: Float64Array, age: number, costs: ReplaceCosts): number {
  const survival = survivalOf(laws, ages);
  return 1 - rateAt(survival, ages, age, costs) / rateAt(survival, ages, ages.at(-1)!, costs);
}

/** Cost of a unit of running where frames are rebuilt at an age, by the trapezoid rule. */
function rateAt(survival: Float64Array, ages: Float64Array, age: number, { planned, unplanned }: ReplaceCosts): number {
  let run = 0;
  let reached = survival.at(-1)!;
  for (let at = 1; at < ages.length; at++) {
    const end = Math.min(ages[at]!, age);
    const share = (end - ages[at - 1]!) / (ages[at]! - ages[at - 1]!);
    const there = survival[at - 1]! + share * (survival[at]! - survival[at - 1]!);
    run += ((end - ages[at - 1]!) * (survival[at - 1]! + there)) / 2;
    reached = there;
    if (end >= age) break;
  }
  return (planned * reached + unplanned * (1 - reached)) / run;
}

function curveOf(survival: Float64Array, ages: Float64Array, costs: ReplaceCosts): PlannedAge["curve"] {
  return Array.from({ length: POINTS / 10 }, (_, at) => ages[(at + 1) * 10]!).map((age) => ({
    age,
    rate: rateAt(survival, ages, age, costs),
  }));
}
