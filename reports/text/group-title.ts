import type { By } from "../../src/questions/answer.ts";

/** The name of a group on a fleet's own page: its slot, and what else tells it apart. */
export function groupTitle({ fleet: _, slot, ...others }: By, slots: Record<string, string>): string {
  const rest = Object.entries(others).map(([column, value]) => `${column.replaceAll("_", " ")} ${value}`);
  const parts = [...(slot === undefined ? [] : [slots[slot] ?? slot]), ...rest];
  return parts.length === 0 ? "All units" : parts.join(", ");
}
