import { streamOf } from "../../../src/stats/random/stream.ts";
import type { RepairModel } from "../../../src/stats/repair/virtual-ages.ts";
import type { UnitOf } from "./repair-data.ts";

type Truth = {
  seed: number;
  set?: number;
  units: number;
  degree: number;
  shape: number;
  scale: number;
  model?: RepairModel;
  /** Ends are uniform between these ages. */
  until?: [number, number];
};

/** Units that fail by the generalised renewal process, watched from new to an age drawn beforehand. */
export function drawnUnits({
  seed,
  set = 0,
  units,
  degree,
  shape,
  scale,
  model = "I",
  until: [least, most] = [9000, 18000],
}: Truth): UnitOf[] {
  const stream = streamOf(seed, set);
  return Array.from({ length: units }, () => {
    const end = least + (most - least) * stream.uniform();
    const repairs: number[] = [];
    let age = 0;
    let virtual = 0;
    for (;;) {
      const hazard = (virtual / scale) ** shape - Math.log(1 - stream.uniform());
      const gap = scale * hazard ** (1 / shape) - virtual;
      if (age + gap > end) return { repairs, end };
      age += gap;
      if (gap > 0) repairs.push(age);
      virtual = degree * (model === "I" ? age : virtual + gap);
    }
  });
}
