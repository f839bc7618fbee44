import { standsOut } from "../../src/questions/offenders.ts";
import type { FleetInShort } from "../fleet-in-short.ts";

/** What the head of a page says of offenders: of frames, and of positions where one stands out. */
export function offenderSentences({ offenders: { unit, position } }: FleetInShort): string[] {
  return [unit.answer, ...(position.entities.some(standsOut) ? [position.answer] : [])];
}
