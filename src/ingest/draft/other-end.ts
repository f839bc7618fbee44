import type { ColumnProfile } from "./column-profile.ts";
import { headerTokens } from "./header-words.ts";
import { type NamedSlot, slotOf } from "./slot-header.ts";
import { OTHER_ENDS } from "./words/slot-words.ts";

const SECOND: Record<string, [drive: string, pump: string]> = {
  bearings: ["drive_end_bearings", "pump_end_bearing"],
  seals: ["drive_end_seals", "pump_end_seals"],
};
const SURE = new Set(OTHER_ENDS.split("|"));

/**
 * A frame has two ends: of two headers that differ in one word, of which one says the drive end, the other says the pump end. Where that
 * word is not known for an end, it is to be confirmed.
 */
export function atOtherEnd(named: NamedSlot, { header }: ColumnProfile, columns: ColumnProfile[]): NamedSlot {
  const ends = SECOND[named.slot];
  if (ends === undefined) return named;
  const tokens = headerTokens(header).whole;
  for (const other of columns) {
    const others = headerTokens(other.header).whole;
    const own = tokens.filter((token, place) => token !== others[place]);
    if (others.length !== tokens.length || own.length !== 1 || slotOf(others)?.slot !== ends[0]) continue;
    return { slot: ends[1], told: SURE.has(own[0]!) ? "name" : "side" };
  }
  return named;
}

/** A slot of no end beside those of an end: its header may say one in a word that is not known. */
export function withDoubt<Slot extends NamedSlot>(slots: Slot[]): Slot[] {
  return slots.map((each) => {
    const isDoubtful = SECOND[each.slot]?.some((end) => slots.some(({ slot }) => slot === end)) ?? false;
    return isDoubtful ? { ...each, told: "side" } : each;
  });
}
