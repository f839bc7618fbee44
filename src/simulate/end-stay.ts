import { firstOfMonth, yearOf } from "./day.ts";
import type { Ending, Fitting, Stay } from "./history.ts";
import type { Random } from "./random.ts";
import { hoursBetween, timeAfter } from "./running-time.ts";
import type { World } from "./world.ts";

type Begun = Pick<Stay, "unit" | "position" | "build" | "installedOn" | "hoursInstalled">;
/** One way in which a stay may end: when, in days and parts of a day. */
type Way = { at: number; ends: Ending; failedSlot: string | null };

/** A yearly stop passes over frames that are not longer than this at their place. */
const NEWLY_INSTALLED_DAYS = 60;

/**
 * How a stay ends: by whichever comes first of the failure of a slot, a planned removal, a yearly stop, retirement, the last day.
 * What is planned is drawn apart from the lives, so that a suspended life is suspended for reasons that know nothing of it.
 */
export function endStay(world: World, begun: Begun, run: { fitting: Fitting; factor: number }[]): Stay {
  const { unit, installedOn, hoursInstalled } = begun;
  const { until } = world;
  const ways: Way[] = run.map(({ fitting, factor }) => ({
    at: timeAfter(unit, installedOn, (fitting.life - fitting.used) * factor),
    ends: "failure",
    failedSlot: fitting.slot,
  }));
  ways.push(...unfailed(world, begun));
  const first = ways.reduce((earliest, way) => (way.at < earliest.at ? way : earliest));
  // Taken out the day after it stopped: dates are whole days, the meter is not.
  const removedOn = Math.max(installedOn + 1, Math.ceil(first.at));
  if (removedOn > until || first.ends === "running") {
    const hoursRemoved = hoursInstalled + hoursBetween(unit, installedOn, until);
    return { ...begun, removedOn: until, hoursRemoved, ends: "running", failedSlot: null };
  }
  const hoursRemoved = hoursInstalled + hoursBetween(unit, installedOn, first.at);
  return { ...begun, removedOn, hoursRemoved, ends: first.ends, failedSlot: first.failedSlot };
}

function unfailed(world: World, { unit, build, installedOn }: Begun): Way[] {
  const { plan, until } = world;
  const random = world.random("stay", unit.index, build.number);
  const ways: Way[] = [
    { at: until, ends: "running", failedSlot: null },
    { at: unit.retiresOn, ends: "retirement", failedSlot: null },
  ];
  if (plan.planned_after_hours) {
    const hours = Math.max(1, random.normal(plan.planned_after_hours.mean, plan.planned_after_hours.sd));
    const converts = build.lube === "grease" && random.chance(plan.converted);
    ways.push({
      at: timeAfter(unit, installedOn, hours),
      ends: converts ? "modification" : "planned",
      failedSlot: null,
    });
  }
  if (plan.yearly_stop) ways.push(...stop(plan.yearly_stop, installedOn, until, random));
  return ways;
}

/** The first yearly stop at which this stay is taken out, if any. */
function stop(
  { month, share }: { month: number; share: number },
  installedOn: number,
  until: number,
  random: Random,
): Way[] {
  for (let year = yearOf(installedOn); year <= yearOf(until); year++) {
    const on = firstOfMonth(year, month) + random.integer(0, 20);
    if (on > installedOn + NEWLY_INSTALLED_DAYS && random.chance(share))
      return [{ at: on, ends: "opportunity", failedSlot: null }];
  }
  return [];
}
