import { expByTable } from "../table-exp.ts";
import type { VirtualAges } from "./virtual-ages.ts";

/** Sums over gaps at one degree q and shape k, ages in units of the largest; `s` stands for to^k - from^k, `l` for log(to) of failures. */
export type PowerSums = {
  s: number;
  /** Derivatives by the shape. */
  sk: number;
  skk: number;
  l: number;
  /** Derivatives by the degree, 0 where they were not asked for. */
  sq: number;
  sqk: number;
  sqq: number;
  lq: number;
  lqq: number;
  /** The largest age. */
  largest: number;
};

/** Below this exponent a difference of powers is reckoned from expm1, for it would lose digits. */
const NEAR = 0.5;

/** @param byDegree - whether derivatives by the degree are wanted; only at degrees above 0 */
export function powerSums(ages: VirtualAges, failed: Uint8Array, shape: number, byDegree: boolean): PowerSums {
  const sums: PowerSums = { s: 0, sk: 0, skk: 0, l: 0, sq: 0, sqk: 0, sqq: 0, lq: 0, lqq: 0, largest: ages.largest };
  addByShape(sums, ages, failed, shape);
  if (byDegree) addByDegree(sums, ages, failed, shape);
  return sums;
}

function addByShape(sums: PowerSums, { logTo, logGain }: VirtualAges, failed: Uint8Array, shape: number): void {
  let s = 0;
  let sk = 0;
  let skk = 0;
  let l = 0;
  for (let gap = 0; gap < failed.length; gap++) {
    const z = logTo[gap]!;
    const w = logGain[gap]!;
    const upper = expByTable(shape * z);
    if (failed[gap] === 1) l += z;
    if (w === Number.POSITIVE_INFINITY) {
      s += upper;
      sk += upper * z;
      skk += upper * z * z;
    } else {
      const lower = expByTable(shape * (z - w));
      const between = shape * w > NEAR ? upper - lower : -upper * Math.expm1(-shape * w);
      s += between;
      sk += between * z + lower * w;
      skk += between * z * z + lower * w * (2 * z - w);
    }
  }
  sums.s = s;
  sums.sk = sk;
  sums.skk = skk;
  sums.l = l;
}

function addByDegree(sums: PowerSums, ages: VirtualAges, failed: Uint8Array, shape: number): void {
  const { from, to, slope, bend, logTo, logGain, largest } = ages;
  let sq = 0;
  let sqk = 0;
  let sqq = 0;
  let lq = 0;
  let lqq = 0;
  for (let gap = 0; gap < failed.length; gap++) {
    // A unit's first gap starts at its true age, whatever the degree.
    if (slope[gap] === 0) continue;
    const z = logTo[gap]!;
    const w = logGain[gap]!;
    const perTo = largest / to[gap]!;
    const perFrom = largest / from[gap]!;
    const v = slope[gap]! / largest;
    const vv = bend[gap]! / largest;
    const upper = expByTable(shape * z) * perTo;
    const lower = expByTable(shape * (z - w)) * perFrom;
    const once = difference(upper, lower, (shape - 1) * w);
    const twice = difference(upper * perTo, lower * perFrom, (shape - 2) * w);
    sq += shape * v * once;
    sqk += v * (once + shape * (once * z + lower * w));
    sqq += shape * (vv * once + (shape - 1) * v * v * twice);
    if (failed[gap] === 1) {
      lq += v * perTo;
      lqq += vv * perTo - (v * perTo) ** 2;
    }
  }
  sums.sq = sq;
  sums.sqk = sqk;
  sums.sqq = sqq;
  sums.lq = lq;
  sums.lqq = lqq;
}

/** upper - lower, where lower = upper * exp(-exponent). */
function difference(upper: number, lower: number, exponent: number): number {
  return Math.abs(exponent) > NEAR ? upper - lower : -upper * Math.expm1(-exponent);
}
