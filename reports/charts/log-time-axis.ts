import { roundLogTicks } from "../../src/questions/round-ticks.ts";
import type { Position } from "./spec-types.ts";

/** Ages along the bottom on a logarithmic scale, with round figures; rows hold them as `time`. */
export function logTimeAxis(title: string, [from, to]: [number, number]): Position {
  return {
    field: "time",
    type: "quantitative",
    title,
    scale: { type: "log", domain: [from, to], nice: false },
    axis: { values: roundLogTicks(from, to), format: ",~r" },
  };
}
