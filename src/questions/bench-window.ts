import { inUnit, windowIn } from "../workspace/lengths.ts";
import type { BenchWindow } from "./bench-answer.ts";
import type { Source } from "./scope.ts";

/** The workspace's window of end play in the unit in which it shows lengths; null where it names none. */
export function benchWindow(source: Source): (BenchWindow & { source: string }) | null {
  if (source.kind === "table") return null;
  const { windows, display } = source.configuration;
  const own = windows.end_play;
  return own === undefined ? null : { ...windowIn(own, display.length), source: own.source };
}

/** Standard deviation of a reading in that unit: the one given, else the workspace's; null where neither is known. */
export function benchGauge(given: number | undefined, source: Source): number | null {
  if (given !== undefined) return given;
  if (source.kind === "table") return null;
  const { gauges, display } = source.configuration;
  const own = gauges.end_play;
  return own === undefined ? null : Number(inUnit(own.sd, own.unit, display.length).toPrecision(12));
}
