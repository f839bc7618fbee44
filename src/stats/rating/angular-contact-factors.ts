import type { SteppedLoadFactors } from "./equivalent-load.ts";

/** How single-row bearings stand: alone or in tandem, or as a pair back to back or face to face, which is loaded and rated as one. */
export type Mounting = "single" | "pair";

/** Contact angles with factors here, in degrees. */
export type ContactAngle = 15 | 25 | 30 | 40;

type Row = { e: number; single: { x: number; y: number }; within: number; pair: { x: number; y: number } };

/** `within` is the axial factor of a pair up to e, where its radial one is 1; a single bearing has 1 and 0 there. */
const STEEP: Record<25 | 30 | 40, Row> = {
  25: { e: 0.68, single: { x: 0.41, y: 0.87 }, within: 0.92, pair: { x: 0.67, y: 1.41 } },
  30: { e: 0.8, single: { x: 0.39, y: 0.76 }, within: 0.78, pair: { x: 0.63, y: 1.24 } },
  40: { e: 1.14, single: { x: 0.35, y: 0.57 }, within: 0.55, pair: { x: 0.57, y: 0.93 } },
};

/** At 15 degrees the angle grows under load: relative axial load, e, Y alone, Y of a pair within and beyond e. */
const SHALLOW: readonly (readonly [number, number, number, number, number])[] = [
  [0.178, 0.38, 1.47, 1.65, 2.39],
  [0.357, 0.4, 1.4, 1.57, 2.28],
  [0.714, 0.43, 1.3, 1.46, 2.11],
  [1.07, 0.46, 1.23, 1.38, 2.0],
  [1.43, 0.47, 1.19, 1.34, 1.93],
  [2.14, 0.5, 1.12, 1.26, 1.82],
  [3.57, 0.55, 1.02, 1.14, 1.66],
  [5.35, 0.56, 1.0, 1.12, 1.63],
];

/**
 * Load factors of single-row angular-contact ball bearings, as makers' catalogues print them after ISO 281.
 * @param angle - contact angle, degrees
 * @param mounting - one row, or a pair rated as one
 * @param relativeAxialLoad - only for 15 degrees: f0 * Fa / C0, with C0 of one bearing; the table is taken straight between its rows,
 *   and at its ends outside 0.178 to 5.35
 * @returns X and Y up to e and beyond it, no unit, for `equivalentLoad`
 * @throws RangeError for 15 degrees without a relative axial load of 0 or more
 * @see two bearing makers' catalogues, tables of equivalent loads of angular-contact ball bearings: 15, 30 and 40 degrees in one, 15, 25
 *   and 40 in the other, which agree where they overlap
 * @example angularContactFactors(40, "pair").beyond; // { x: 0.57, y: 0.93 }
 */
export function angularContactFactors(
  angle: ContactAngle,
  mounting: Mounting,
  relativeAxialLoad?: number,
): SteppedLoadFactors {
  const { e, single, within, pair } = angle === 15 ? shallowRow(relativeAxialLoad) : STEEP[angle];
  return mounting === "single"
    ? { e, within: { x: 1, y: 0 }, beyond: { ...single } }
    : { e, within: { x: 1, y: within }, beyond: { ...pair } };
}

function shallowRow(relative: number | undefined): Row {
  if (relative === undefined || !(relative >= 0)) {
    throw new RangeError(
      `Cannot take factors at 15 degrees: the relative axial load must be 0 or more, found ${relative}`,
    );
  }
  const [, e, alone, within, beyond] = between(relative);
  return { e, single: { x: 0.44, y: alone }, within, pair: { x: 0.72, y: beyond } };
}

function between(relative: number): readonly [number, number, number, number, number] {
  const next = SHALLOW.findIndex(([load]) => load >= relative);
  const upper = SHALLOW[next] ?? SHALLOW[SHALLOW.length - 1]!;
  const lower = SHALLOW[next - 1];
  if (lower === undefined) return upper;
  const part = (relative - lower[0]) / (upper[0] - lower[0]);
  const at = (column: 1 | 2 | 3 | 4) => lower[column] + part * (upper[column] - lower[column]);
  return [relative, at(1), at(2), at(3), at(4)];
}
