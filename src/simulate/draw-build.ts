import type { Build, Lube, Unit } from "./history.ts";
import type { World } from "./world.ts";

// Common practice, no source: rings are warmed to about 213 F (100 C) before they go on the shaft.
const RING_TEMPERATURE_F = { mean: 213, sd: 5 };
const SMALLEST_END_PLAY = 0.5;
const THINNEST_PACK = 1;
const PACK_THOU = { mean: 12, sd: 2.5 };
const SPIGOT_HEIGHT_THOU = { mean: 866, sd: 4 }; // 22 mm
const ARRANGEMENTS = { "double lip": 3, "lip and slinger": 2 };

/** What the bench makes of a frame on a day: measured in thou and degrees F. */
export function drawBuild(
  world: World,
  unit: Unit,
  { number, builtOn, lube }: { number: number; builtOn: number; lube: Lube },
): Build {
  const { bench } = world.scenario;
  const random = world.random("build", unit.index, number);
  const fitter = random.integer(1, bench.fitters);
  const habit = world.random("fitter", fitter).normal(0, bench.fitter_sd);
  const endPlayThou = Math.max(SMALLEST_END_PLAY, random.normal(bench.end_play_mean + habit, bench.end_play_sd));
  const read = Math.max(SMALLEST_END_PLAY, random.normal(endPlayThou, bench.gauge_sd));
  return {
    number,
    builtOn,
    lube,
    endPlayThou,
    endPlayReadThou: random.chance(bench.copied) ? bench.copied_as : read,
    ...shimmed(world, unit, {
      number,
      endPlayThou,
      shimsThou: Math.max(THINNEST_PACK, Math.round(random.normal(PACK_THOU.mean, PACK_THOU.sd))),
    }),
    ringTemperatureF: Math.round(random.normal(RING_TEMPERATURE_F.mean, RING_TEMPERATURE_F.sd)),
    fitter: `F${String(fitter).padStart(2, "0")}`,
    sealArrangement: random.weighted(ARRANGEMENTS),
  };
}

/** The pack leaves the end play of what there is without it; each reading strays by the gauge. */
function shimmed(
  world: World,
  { index }: Unit,
  { number, endPlayThou, shimsThou }: Pick<Build, "number" | "endPlayThou" | "shimsThou">,
): Pick<Build, "shimsThou" | "unshimmedReadThou" | "raceDepthReadThou" | "spigotHeightReadThou"> {
  const random = world.random("shims", index, number);
  const read = (thou: number) => random.normal(thou, world.scenario.bench.gauge_sd);
  const unshimmed = endPlayThou + shimsThou;
  const spigot = random.normal(SPIGOT_HEIGHT_THOU.mean, SPIGOT_HEIGHT_THOU.sd);
  return {
    shimsThou,
    unshimmedReadThou: read(unshimmed),
    raceDepthReadThou: read(spigot + unshimmed),
    spigotHeightReadThou: read(spigot),
  };
}
