import type { Fitting, Unit } from "./history.ts";
import { weibullLife } from "./weibull-life.ts";
import type { World } from "./world.ts";

/** A new component for every slot, each with the life that it would have at every factor 1. */
export function fitSlots(
  world: World,
  unit: Unit,
  { number, builtOn }: { number: number; builtOn: number },
): Fitting[] {
  const { slots, effects } = world.scenario;
  const random = world.random("life", unit.index, number);
  return Object.entries(slots).map(([slot, { shape, scale }]) => {
    const batch = effects.batch?.slots.includes(slot) ? batchOn(world, builtOn) : null;
    return { slot, life: weibullLife(random.uniform(), shape, scale), used: 0, batch, firstFactor: null };
  });
}

/** The batch that the stores hand out on a day: numbered from the scenario's first day. */
function batchOn({ begins, scenario }: World, day: number): string | null {
  const { batch } = scenario.effects;
  if (batch === undefined) return null;
  const number = Math.floor((day - begins) / batch.days_each);
  return `${batch.prefix}${String(Math.max(0, number) + 1).padStart(2, "0")}`;
}
