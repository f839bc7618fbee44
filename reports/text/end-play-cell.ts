import type { EndPlay } from "../../src/questions/overview-types.ts";
import { inUnit } from "../../src/workspace/lengths.ts";

const figures = new Intl.NumberFormat("en-US", { maximumFractionDigits: 3 });

/** An as-built end play, and whether it lies outside the workspace's window: "8.5, outside". */
export function endPlayCell(value: number | null, { unit, window }: Pick<EndPlay, "unit" | "window">): string | null {
  if (value === null) return null;
  const shown = figures.format(value);
  if (window === null) return shown;
  const [low, high] = [inUnit(window.low, window.unit, unit), inUnit(window.high, window.unit, unit)];
  const slack = 1e-9 * high;
  return value < low - slack || value > high + slack ? `${shown}, outside` : shown;
}
