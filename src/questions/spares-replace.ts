import { costRate } from "../stats/spares/cost-rate.ts";
import { replacementAge } from "../stats/spares/replacement-age.ts";
import { replacementSaving } from "../stats/spares/replacement-saving.ts";
import type { WeibullDraws } from "../stats/spares/weibull-draws.ts";
import { WHOLE_FRAME } from "../workspace/whole-frame.ts";
import type { PlannedAge, PlannedAges, SparesLaw } from "./spares-answer.ts";
import type { ReplaceCosts } from "./spares-costs.ts";
import type { FleetReading } from "./spares-forecast.ts";
import { OTHERWISE } from "./spares-laws.ts";
import { plannedFrameAge } from "./spares-replace-frame.ts";

/** Ages of the cost curve, as shares of its last. */
const CURVE = 60;

/** For each slot of each fleet whether a rebuild at a planned age costs less than to wait for its failure, and at which age. */
export function plannedAges(reading: FleetReading, costs: ReplaceCosts, level: number): PlannedAges {
  const laws = reading.laws.told.filter(({ slot }) => slot !== OTHERWISE);
  const asked = (fleet: string) => ({ level, aYear: runAYear(reading, fleet) });
  // A slot that is called frame is the whole already.
  const wholes = reading.slots.includes(WHOLE_FRAME) ? [] : reading.fleets;
  const frames = wholes.map((fleet) => plannedFrame(reading, fleet, costs, asked(fleet)));
  const slots = laws.map((law) => plannedAge(law, drawsOf(reading, law), costs, asked(law.fleet)));
  return { costs, rows: [...frames, ...slots] };
}

/** A usual shape rises with age: laws that lean on it say nothing of these frames. */
const TOO_FEW = "too few failures on record to say that failures rise with age";
const NO_AGE = {
  ...{ worth: false, age: null, saving: null, aYear: null, chanceOfSaving: null, bestAge: null },
  curve: [] as PlannedAge["curve"],
};

/** A share of openings at which a slot is renewed from which it counts as renewed by every rebuild. */
const ALWAYS = 0.9;

/** The frame as a whole, of the slots that every rebuild renews. */
function plannedFrame(
  reading: FleetReading,
  fleet: string,
  costs: ReplaceCosts,
  asked: { level: number; aYear: number },
): PlannedAge {
  const laws = reading.laws.told.filter(
    (law) => law.fleet === fleet && law.slot !== OTHERWISE && law.renewed >= ALWAYS && law.scale !== null,
  );
  const failed = laws.reduce((sum, law) => sum + law.failed, 0);
  if (laws.length > 0 && laws.every(({ from }) => from === "few failures")) {
    return { fleet, slot: WHOLE_FRAME, shape: null, failed, ...NO_AGE, reason: TOO_FEW };
  }
  return plannedFrameAge(
    laws.map((law) => ({ shape: law.shape, scale: law.scale!, draws: drawsOf(reading, law) })),
    { fleet, failed, costs, ...asked },
  );
}

function plannedAge(
  law: SparesLaw,
  draws: WeibullDraws,
  costs: ReplaceCosts,
  { level, aYear }: { level: number; aYear: number },
): PlannedAge {
  const { fleet, slot, shape, scale, failed } = law;
  const own = { fleet, slot, shape, failed };
  const nothing = { ...own, ...NO_AGE };
  if (scale === null || law.from === "few failures") {
    return { ...nothing, reason: TOO_FEW };
  }
  const wearing = wearOut(draws, level);
  if (!wearing.credible) {
    return {
      ...nothing,
      worth: false,
      reason: `failures do not credibly rise with age: shape ${round(shape)} (${round(wearing.low)} to ${round(wearing.high)})`,
    };
  }
  const found = replacementAge({ shape, scale }, costs);
  if (!found.found) return { ...nothing, worth: false, reason: found.reason };
  const saved = replacementSaving(draws, costs, { age: found.age, level });
  const worth = saved.low > 0;
  return {
    ...own,
    worth,
    age: found.age,
    saving: { estimate: found.saving, low: saved.low, high: saved.high },
    aYear: {
      estimate: (found.runToFailureRate - found.costRate) * aYear,
      low: saved.amount.low * aYear,
      high: saved.amount.high * aYear,
    },
    chanceOfSaving: saved.chanceOfSaving,
    bestAge: saved.bestAge,
    curve: curveOf({ shape, scale }, costs, found.age),
    ...(worth ? {} : { reason: "what it saves is not credibly above nothing" }),
  };
}

function round(value: number): string {
  return String(Number(value.toPrecision(3)));
}

/** Limits of the shape by its draws, and whether it lies above 1 at that level. */
function wearOut({ shape }: WeibullDraws, level: number): { credible: boolean; low: number; high: number } {
  const sorted = shape.toSorted();
  const at = (p: number) => sorted[Math.min(sorted.length - 1, Math.floor(p * sorted.length))]!;
  const [low, high] = [at((1 - level) / 2), at((1 + level) / 2)];
  return { credible: low > 1, low, high };
}

/** Cost an hour at ages around the best one. */
function curveOf(law: { shape: number; scale: number }, costs: ReplaceCosts, best: number): PlannedAge["curve"] {
  const last = Math.max(3 * best, 1.2 * law.scale);
  const ages = Float64Array.from({ length: CURVE }, (_, at) => (last * (at + 1)) / CURVE);
  const rates = costRate(law, costs, ages);
  return Array.from(ages, (age, at) => ({ age, rate: rates[at]! }));
}

/** The draws of one law. */
function drawsOf({ laws, fleets, slots }: FleetReading, { fleet, slot }: SparesLaw): WeibullDraws {
  const width = laws.laws.restart.length;
  const place = fleets.indexOf(fleet) * (slots.length + 1) + slots.indexOf(slot);
  const of = (column: Float64Array) =>
    Float64Array.from({ length: column.length / width }, (_, draw) => column[draw * width + place]!);
  return { shape: of(laws.laws.shape), scale: of(laws.laws.scale) };
}

/** What all frames of a fleet run in a year. */
function runAYear({ serving }: FleetReading, fleet: string): number {
  return serving.units.reduce((sum, unit, at) => (unit.fleet === fleet ? sum + 12 * serving.rate[at]! : sum), 0);
}
