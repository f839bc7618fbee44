import { cellsOf, type LabelledTally, mostSums } from "./labelled-tally.ts";
import type { Lives } from "./lives.ts";

/** Of each life a number from 0 up to, not with, `groups`. */
type Grouped = { group: Int32Array; groups: number };

/** Ages for which there is room at first. */
const FIRST_ROOM = 4096;

/**
 * Counts lives of the most common kind, of whole ages, from the start, each a row, by age and by label, which is 2 * group + failed. Checks
 * them in the same pass, where each further one would cost as much again.
 * @returns null for lives of another kind, and for columns that are no lives: whoever counts them then is to check them
 */
export function wholeEnds(lives: Lives, grouped?: Grouped): LabelledTally | null {
  const labels = 2 * (grouped?.groups ?? 1);
  const counts = wholeCounts(lives, grouped);
  return counts === null ? null : cellsOf(counts, labels, 1, lives.time.length);
}

/** The same as a table: how many lives there are of each age and label, at age * labels + label. */
export function wholeCounts({ time, failed, entry, count }: Lives, grouped?: Grouped): Int32Array | null {
  const lives = time.length;
  if (entry !== undefined || count !== undefined || failed.length !== lives) return null;
  if (grouped !== undefined && grouped.group.length !== lives) return null;
  const labels = 2 * (grouped?.groups ?? 1);
  const most = Math.floor(mostSums(lives) / labels);
  let sums = new Int32Array(Math.min(most, FIRST_ROOM) * labels);
  for (let life = 0; ; sums = grown(sums, Math.min(most, 2 * time[life]!) * labels)) {
    life =
      grouped === undefined ? countFrom(life, time, failed, sums) : countGroupsFrom(life, time, failed, grouped, sums);
    if (life === lives) return sums;
    if (!needsRoom(time[life]!, sums.length / labels, most)) return null;
  }
}

/** A life that was not counted: for its age alone, or for what no room can mend. */
function needsRoom(age: number, room: number, most: number): boolean {
  return Number.isInteger(age) && age >= room && age < most;
}

function grown(sums: Int32Array<ArrayBuffer>, size: number): Int32Array<ArrayBuffer> {
  const larger = new Int32Array(size);
  larger.set(sums);
  return larger;
}

/**
 * Counts lives up to the first that is not whole, has no flag, or no room. The table stays the same inside the loop, and what is whole is
 * told to be (`| 0`, `>>> 0`), which together halves its time.
 */
function countFrom(from: number, time: Float64Array, failed: Uint8Array, sums: Int32Array): number {
  const room = sums.length >> 1;
  for (let life = from; life < time.length; life++) {
    const age = time[life]!;
    const whole = age | 0;
    const flag = failed[life]!;
    if (whole !== age || whole >>> 0 >= room || flag > 1) return life;
    const at = (whole << 1) | flag;
    sums[at] = (sums[at]! + 1) | 0;
  }
  return time.length;
}

function countGroupsFrom(
  from: number,
  time: Float64Array,
  failed: Uint8Array,
  { group, groups }: Grouped,
  sums: Int32Array,
): number {
  const room = sums.length / (2 * groups);
  for (let life = from; life < time.length; life++) {
    const age = time[life]!;
    const whole = age | 0;
    const flag = failed[life]!;
    const own = group[life]!;
    if (whole !== age || whole >>> 0 >= room || flag > 1 || own >>> 0 >= groups) return life;
    const at = ((whole * groups + own) << 1) | flag;
    sums[at] = (sums[at]! + 1) | 0;
  }
  return time.length;
}
