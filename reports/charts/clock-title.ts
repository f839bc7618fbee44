import type { Clock } from "../../src/questions/answer.ts";

/** Title of the time axis. A plain table has no unit of its own. */
export function clockTitle(clock: Clock | null): string {
  if (clock === null) return "Time";
  return clock === "hours" ? "Running hours" : "Days since installation";
}
