import { standsOut } from "../../src/questions/offenders.ts";
import type { FleetOverview } from "../../src/questions/overview-types.ts";

/** What the head of a page says of offenders: of frames, and of positions where one stands out. */
export function offenderSentences({ offenders: { unit, position } }: FleetOverview): string[] {
  return [unit.answer, ...(position.entities.some(standsOut) ? [position.answer] : [])];
}
