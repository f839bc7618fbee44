import logGamma from "@stdlib/math-base-special-gammaln";
import type { Stretches } from "../../../src/stats/offenders/expected-events.ts";
import { type Stream, streamOf } from "../../../src/stats/random/stream.ts";

/** A Weibull gap of scale 1. */
export function gapOf(random: Stream, shape: number): number {
  return (-Math.log1p(-random.uniform())) ** (1 / shape);
}

export type DrawnFleet = {
  seed: number;
  /** Of the seed. */
  number?: number;
  units: number;
  /** Mean gaps that a unit is watched for; each for 0.4 to 1.6 of it. */
  mean: number;
  /** Of the gaps. */
  shape: number;
  /** Mean gap of stratum s is s + 1; units are of strata in turn. */
  strata?: number;
  /** Hazard of a unit over the fleet's. */
  ratio?: (unit: number) => number;
};

/** Units from new, each with the stretches between its events. */
export function drawnStretches(fleet: DrawnFleet): Required<Stretches> {
  const { seed, number = 0, units, mean, shape, strata = 1, ratio = () => 1 } = fleet;
  const random = streamOf(seed, number);
  const unitGap = Math.exp(-logGamma(1 + 1 / shape));
  const [entity, stop, event]: [number[], number[], number[]] = [[], [], []];
  for (let unit = 0; unit < units; unit++) {
    const gap = unitGap * ((unit % strata) + 1) * ratio(unit) ** (-1 / shape);
    for (let left = mean * (0.4 + 1.2 * random.uniform()); left > 0; ) {
      const length = gap * gapOf(random, shape);
      entity.push(unit);
      stop.push(Math.min(length, left));
      event.push(length <= left ? 1 : 0);
      left -= length;
    }
  }
  return {
    entity: Int32Array.from(entity),
    stratum: Int32Array.from(entity, (unit) => unit % strata),
    entry: new Float64Array(stop.length),
    stop: Float64Array.from(stop),
    event: Uint8Array.from(event),
  };
}
