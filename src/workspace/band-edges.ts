import type { Configuration } from "./configuration.ts";
import { inUnit } from "./lengths.ts";

/** Edges between bands of as-built end play in the unit that the workspace shows lengths in; none where it names none. */
export function bandEdges({ bands, display }: Pick<Configuration, "bands" | "display">): number[] {
  const named = bands.end_play ?? [];
  if (Array.isArray(named)) return named;
  // without what converting leaves in the last digits
  return named.edges.map((edge) => Number(inUnit(edge, named.unit, display.length).toPrecision(12)));
}
