import type { FleetPlan } from "./fleet-plan.ts";
import type { Unit } from "./history.ts";
import type { Random } from "./random.ts";
import type { Spell } from "./running-time.ts";
import type { World } from "./world.ts";

const DAYS_A_YEAR = 365.25;
const GOLDEN_RATIO = (1 + Math.sqrt(5)) / 2;

/** The frames of a fleet, in the order of their purchase. */
export function drawUnits(world: World): Unit[] {
  const units = Array.from({ length: world.plan.units }, (_, index) => drawUnit(world, index));
  return units.sort((a, b) => a.boughtOn - b.boughtOn || a.index - b.index);
}

function drawUnit(world: World, index: number): Unit {
  const { scenario, plan, begins, recordsBegin } = world;
  const random = world.random("unit", index);
  // Steps of the golden ratio spread evenly over (0, 1), so that whether a unit is early doesn't depend on how many there are.
  const early = (index * GOLDEN_RATIO) % 1 < plan.early_units;
  const boughtOn = early
    ? random.integer(begins, Math.max(begins, recordsBegin - 1))
    : recordsBegin + random.integer(0, plan.bought_within_days);
  const model = random.weighted(Object.fromEntries(plan.models.map(({ name, share }) => [name, share])));
  const speedRpm = plan.models.find(({ name }) => name === model)?.speed_rpm ?? 0;
  const hoursADay = Math.min(
    plan.hours_a_day.most,
    plan.hours_a_day.mean * Math.exp(random.normal(0, plan.hours_a_day.log_sd)),
  );
  const lubeBought = random.chance(plan.oil_bath) ? "oil_bath" : "grease";
  const frailty = random.normal(0, 1) * scenario.effects.unit_sd;
  const retiresOn = Math.max(boughtOn, recordsBegin) + Math.ceil(waiting(random, plan.retired_a_year));
  const serial = `${plan.unit_prefix}${String(101 + index * 7).padStart(4, "0")}`;
  const idle = drawIdle(world.random("idle", index), plan, boughtOn, world.until);
  return { index, serial, model, speedRpm, boughtOn, retiresOn, lubeBought, frailty, hoursADay, idle };
}

/** Days until the next event of a Poisson process of `aYear` events a year. */
function waiting(random: Random, aYear: number): number {
  const u = random.uniform();
  return aYear === 0 ? Number.POSITIVE_INFINITY : (-Math.log(u) / aYear) * DAYS_A_YEAR;
}

function drawIdle(random: Random, plan: FleetPlan, from: number, to: number): Spell[] {
  const spells: Spell[] = [];
  let at = from + Math.ceil(waiting(random, plan.idle.spells_a_year));
  while (at < to) {
    const end = at + random.integer(...plan.idle.days);
    spells.push({ from: at, to: end });
    at = end + Math.ceil(waiting(random, plan.idle.spells_a_year));
  }
  return spells;
}
