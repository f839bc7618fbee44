import type { Configuration } from "../workspace/configuration.ts";
import { MM_PER } from "../workspace/lengths.ts";

const LENGTHS = new Set(["end_play", "end_play_found", "end_play_unshimmed", "race_depth", "spigot_height", "shims"]);

/** What the steps are bound with that show lengths and temperatures in the workspace's units. */
export function inUnitsOf({ length, temperature }: Configuration["display"]): {
  mm_per_length: number;
  fahrenheit: boolean;
} {
  return { mm_per_length: MM_PER[length], fahrenheit: temperature === "F" };
}

/** The unit of a measured column of lives or builds, as it is written behind a number; null for one that has none. */
export function unitOf(column: string, { length, temperature }: Configuration["display"]): string | null {
  if (LENGTHS.has(column)) return length;
  if (column === "ring_temperature") return temperature;
  return column === "speed" ? "rpm" : null;
}
