import type { Lives } from "../lives.ts";
import { orderOf } from "../order.ts";

/** Groups to be compared, a number per life. */
export type Groups = {
  /** Of each life, from 0 up to, not with, `groups`. */
  group: Int32Array;
  /** How many there are. */
  groups: number;
  /** Of each life, from 0; groups are compared within a stratum only. */
  stratum?: Int32Array;
};

/** Lives, each with its group. */
export type GroupedLives = Lives & { group: Int32Array };

/**
 * The lives of each stratum; of all together where there are none.
 * @throws RangeError for columns of unequal length, or a number out of range
 */
export function livesByStratum(lives: Lives, { group, groups, stratum }: Groups): GroupedLives[] {
  refuseOutside("group", group, lives.time.length, groups);
  if (stratum === undefined) return [{ ...lives, group }];
  refuseOutside("stratum", stratum, lives.time.length, 2 ** 31);
  const order = orderOf(Float64Array.from(stratum));
  const parts: GroupedLives[] = [];
  for (let from = 0, to = 0; from < order.length; from = to) {
    while (to < order.length && stratum[order[to]!] === stratum[order[from]!]) to++;
    parts.push(livesAt({ ...lives, group }, order.subarray(from, to)));
  }
  return parts;
}

function refuseOutside(name: string, column: Int32Array, size: number, end: number): void {
  if (column.length !== size) {
    throw new RangeError(`Cannot compare lives: ${name} has ${column.length} values, expected ${size}`);
  }
  for (let life = 0; life < size; life++) {
    if (!(column[life]! >= 0 && column[life]! < end)) {
      throw new RangeError(`Cannot compare lives: ${name} of life ${life} (counted from 0) is ${column[life]}`);
    }
  }
}

function livesAt({ time, failed, entry, count, group }: GroupedLives, rows: Uint32Array): GroupedLives {
  const numbers = (column: Float64Array) => Float64Array.from(rows, (row) => column[row]!);
  return {
    time: numbers(time),
    failed: Uint8Array.from(rows, (row) => failed[row]!),
    group: Int32Array.from(rows, (row) => group[row]!),
    ...(entry && { entry: numbers(entry) }),
    ...(count && { count: numbers(count) }),
  };
}
