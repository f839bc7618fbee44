/** Days [from, to) on which a unit stands idle at its place. */
export type Spell = { from: number; to: number };

type Runs = { hoursADay: number; idle: Spell[] };

/** Hours that a unit runs between two days, idle spells left out. */
export function hoursBetween({ hoursADay, idle }: Runs, from: number, to: number): number {
  let days = to - from;
  for (const spell of idle) days -= Math.max(0, Math.min(to, spell.to) - Math.max(from, spell.from));
  return hoursADay * days;
}

/** When, in days and parts of a day, a unit that runs on from `from` has run `hours`. */
export function timeAfter({ hoursADay, idle }: Runs, from: number, hours: number): number {
  let at = from;
  let left = hours / hoursADay;
  for (const spell of idle) {
    if (spell.to <= at) continue;
    const before = Math.max(0, spell.from - at);
    if (left <= before) return at + left;
    left -= before;
    at = spell.to;
  }
  return at + left;
}
