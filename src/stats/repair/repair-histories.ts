/**
 * Repairs of units, each by the unit's age since it was new. Units are numbered from 0; all ages are in one unit of time.
 * The degree of repair needs the whole past of a unit: what a repair left behind depends on all that went before it.
 */
export type RepairHistories = {
  /** Unit of each repair. */
  unit: Int32Array;
  /** Age at each repair, not after the unit's end. */
  time: Float64Array;
  /** 1: the unit had failed; 0: it was repaired before it failed. All had failed where not given. */
  failed?: Uint8Array;
  /** Per unit: age from which it was watched, 0 from new. Repairs up to then make its virtual age, and do not count themselves. */
  entry: Float64Array;
  /** Per unit: age at which observation ended. */
  end: Float64Array;
  /**
   * Per unit: 1 where ages count from new and every repair since then is listed, those before `entry` too; 0 where that is not known,
   * and then the unit is left out and counted.
   */
  fromNew: Uint8Array;
};

/** @throws RangeError for columns of unequal length, an unknown unit, or an age that can't be */
export function checkHistories(histories: RepairHistories): void {
  checkLengths(histories);
  const { unit, time, entry, end } = histories;
  for (let one = 0; one < end.length; one++) {
    if (!(entry[one]! >= 0 && end[one]! >= entry[one]! && end[one]! < Number.POSITIVE_INFINITY)) {
      throw refused(`unit ${one} enters at ${entry[one]} and ends at ${end[one]}`);
    }
  }
  for (let row = 0; row < time.length; row++) {
    const last = end[unit[row]!];
    if (last === undefined) throw refused(`there is no unit ${unit[row]}`);
    if (!(time[row]! >= 0 && time[row]! <= last)) {
      throw refused(`a repair at ${time[row]} lies outside the life of unit ${unit[row]}, which ends at ${last}`);
    }
  }
}

function checkLengths({ unit, time, failed, entry, end, fromNew }: RepairHistories): void {
  const marks = failed?.length ?? unit.length;
  if (time.length !== unit.length || marks !== unit.length) {
    throw refused(`columns differ in length, found ${unit.length} units, ${time.length} ages, ${marks} marks`);
  }
  if (entry.length !== end.length || fromNew.length !== end.length) {
    throw refused(`units differ in number, found ${entry.length} entries, ${end.length} ends, ${fromNew.length} marks`);
  }
}

function refused(found: string): RangeError {
  return new RangeError(`Cannot fit a degree of repair: ${found}`);
}
