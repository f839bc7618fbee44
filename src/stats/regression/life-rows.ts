import type { IntervalLives } from "../lives.ts";
import type { PlainLives } from "./plain-lives.ts";
import type { StandardColumn } from "./standard-columns.ts";

/** Terms of a likelihood that are at one age each: failures, removals and, with a weight below 0, late entries. */
export type PointRows = {
  /** Log age less the typical log age. */
  log: Float64Array;
  /** 1 for failures; 0 for removals and entries. */
  failed: Uint8Array;
  /** How many lives the term stands for, less than 0 for entries; null where it is 1 for each. */
  weight: Float64Array | null;
  /** Standard covariates, each as long as the rest. */
  columns: Float64Array[];
  /** The row of the lives; null where the terms are the rows. */
  row: Int32Array | null;
};

/** Failures that lie within an interval. */
export type WithinRows = {
  /** As for `PointRows`; -Infinity where left-censored. */
  low: Float64Array;
  high: Float64Array;
  count: Float64Array;
  columns: Float64Array[];
  row: Int32Array;
};

/** All that the likelihood of a regression needs of lives. */
export type LifeRows = Counted & { points: PointRows; within: WithinRows };

/** Failures at a known age, the sum of their logs, and failures of any kind. */
type Counted = { exact: number; exactLogs: number; failures: number };

/**
 * Lives as the terms of a likelihood; rows that stand for no life are left out.
 * @param lives - checked
 * @param typicalLog - about which log ages are taken
 * @param rows - which rows to take; all where null
 */
export function lifeRows(
  lives: PlainLives | IntervalLives,
  columns: readonly StandardColumn[],
  typicalLog: number,
  rows: ArrayLike<number> | null = null,
): LifeRows {
  return "time" in lives ? plainRows(lives, columns, typicalLog, rows) : anyRows(lives, columns, typicalLog, rows);
}

function emptyWithin(size: number): WithinRows {
  return {
    low: new Float64Array(size),
    high: new Float64Array(size),
    count: new Float64Array(size),
    columns: [],
    row: new Int32Array(size),
  };
}

/** Of all rows nothing is copied that can be read where it is. */
function plainRows(
  { time, failed }: PlainLives,
  columns: readonly StandardColumn[],
  typicalLog: number,
  rows: ArrayLike<number> | null,
): LifeRows {
  const row = rows === null ? null : Int32Array.from(rows);
  const log = new Float64Array(row?.length ?? time.length);
  const flags = row === null ? failed : Uint8Array.from(row, (life) => failed[life]!);
  let [failures, exactLogs] = [0, 0];
  for (let term = 0; term < log.length; term++) {
    const logAge = Math.log(row === null ? time[term]! : time[row[term]!]!);
    log[term] = logAge - typicalLog;
    failures += flags[term]!;
    exactLogs += flags[term]! * logAge;
  }
  const own = columns.map((column) => (row === null ? standardised(column) : picked(column, row)));
  const points = { log, failed: flags, weight: null, columns: own, row };
  return { points, within: emptyWithin(0), exact: failures, exactLogs, failures };
}

function standardised({ values, middle, reach }: StandardColumn): Float64Array {
  const found = new Float64Array(values.length);
  const scale = 1 / reach;
  for (let row = 0; row < found.length; row++) found[row] = (values[row]! - middle) * scale;
  return found;
}

type Filled<T> = { [key in keyof T]: NonNullable<T[key]> };

function anyRows(
  lives: IntervalLives,
  columns: readonly StandardColumn[],
  typicalLog: number,
  rows: ArrayLike<number> | null,
): LifeRows {
  const sizes = sizesOf(lives, rows);
  const size = sizes.ends + sizes.entries;
  const points: Filled<PointRows> = {
    log: new Float64Array(size),
    failed: new Uint8Array(size),
    weight: new Float64Array(size),
    columns: [],
    row: new Int32Array(size),
  };
  const within = emptyWithin(sizes.within);
  const chosen = { lives, typicalLog, rows };
  const counted = fillEnds(chosen, points, within);
  fillEntries(chosen, points, sizes.ends);
  points.columns = columns.map((column) => picked(column, points.row));
  within.columns = columns.map((column) => picked(column, within.row));
  return { points, within, ...counted };
}

function picked({ values, middle, reach }: StandardColumn, row: Int32Array): Float64Array {
  const found = new Float64Array(row.length);
  const scale = 1 / reach;
  for (let term = 0; term < row.length; term++) found[term] = (values[row[term]!]! - middle) * scale;
  return found;
}

type Sizes = { ends: number; entries: number; within: number };

function sizesOf(lives: IntervalLives, rows: ArrayLike<number> | null): Sizes {
  const { low, high, entry, count } = lives;
  const sizes = { ends: 0, entries: 0, within: 0 };
  const length = rows === null ? low.length : rows.length;
  for (let at = 0; at < length; at++) {
    const row = rows === null ? at : rows[at]!;
    if (count?.[row] === 0) continue;
    if (isWithin(low[row]!, high[row]!)) sizes.within++;
    else sizes.ends++;
    if (entry !== undefined && entry[row]! > 0) sizes.entries++;
  }
  return sizes;
}

function isWithin(low: number, high: number): boolean {
  return high !== low && high !== Number.POSITIVE_INFINITY;
}

type Chosen = { lives: IntervalLives; typicalLog: number; rows: ArrayLike<number> | null };

function fillEnds({ lives, typicalLog, rows }: Chosen, points: Filled<PointRows>, within: WithinRows): Counted {
  const { low, high, count } = lives;
  const { log, failed, weight, row: to } = points;
  const length = rows === null ? low.length : rows.length;
  let [end, inside, exact, exactLogs, others] = [0, 0, 0, 0, 0];
  for (let at = 0; at < length; at++) {
    const row = rows === null ? at : rows[at]!;
    const own = count === undefined ? 1 : count[row]!;
    if (own === 0) continue;
    const from = low[row]!;
    const until = high[row]!;
    if (isWithin(from, until)) {
      within.low[inside] = Math.log(from) - typicalLog;
      within.high[inside] = Math.log(until) - typicalLog;
      within.count[inside] = own;
      within.row[inside++] = row;
      others += own;
      continue;
    }
    const logAge = Math.log(from);
    const flag = until === from ? 1 : 0;
    log[end] = logAge - typicalLog;
    failed[end] = flag;
    weight[end] = own;
    to[end++] = row;
    exact += flag * own;
    exactLogs += flag * own * logAge;
  }
  return { exact, exactLogs, failures: exact + others };
}

/** Entries stand after all the ends, so that the long loops run through terms of one kind. */
function fillEntries({ lives, typicalLog, rows }: Chosen, points: Filled<PointRows>, from: number): void {
  const { entry, count } = lives;
  if (entry === undefined) return;
  const length = rows === null ? entry.length : rows.length;
  let term = from;
  for (let at = 0; at < length; at++) {
    const row = rows === null ? at : rows[at]!;
    const own = count === undefined ? 1 : count[row]!;
    if (own === 0 || entry[row] === 0) continue;
    points.log[term] = Math.log(entry[row]!) - typicalLog;
    points.weight[term] = -own;
    points.row[term++] = row;
  }
}
