import type { Comeback } from "../../src/questions/bench-answer.ts";
import { capitalised } from "./capitalised.ts";

/** What was found at a comeback, a line for each slot: what had failed or was damaged, else what was worn. */
export function comebackLines(
  { found, failedSlot }: Pick<Comeback, "found" | "failedSlot">,
  slots: Record<string, string>,
): string[] {
  const title = (slot: string) => slots[slot] ?? slot.replaceAll("_", " ");
  const telling = found.filter(({ condition, damageMode }) => condition === "failed" || damageMode !== null);
  const lines = (telling.length > 0 ? telling : found.filter(({ condition }) => condition === "worn")).map(
    ({ slot, condition, damageMode }) =>
      `${title(slot)}: ${(condition === "failed" && damageMode !== null ? [damageMode] : [condition, damageMode])
        .filter((word) => word !== null)
        .map((word) => word.replaceAll("_", " "))
        .join(", ")}`,
  );
  if (lines.length > 0) return lines;
  return [failedSlot === null ? "Nothing on the card" : `${capitalised(title(failedSlot))} named, nothing said of it`];
}
