import type { EndPlay } from "../../src/questions/overview-types.ts";
import { sideOf } from "../../src/questions/window-side.ts";
import { windowIn } from "../../src/workspace/lengths.ts";

const figures = new Intl.NumberFormat("en-US", { maximumFractionDigits: 3 });

/** An as-built end play, and whether it lies outside the workspace's window: "8.5, outside". */
export function endPlayCell(value: number | null, { unit, window }: Pick<EndPlay, "unit" | "window">): string | null {
  if (value === null) return null;
  const shown = figures.format(value);
  if (window === null) return shown;
  return sideOf(value, windowIn(window, unit), unit) === null ? shown : `${shown}, outside`;
}
