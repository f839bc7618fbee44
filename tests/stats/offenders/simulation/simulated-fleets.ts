import type { Cells } from "../../../../src/stats/offenders/cells.ts";
import { crossedEffectsAt } from "../../../../src/stats/offenders/crossed-effects-at.ts";
import type { Stretches } from "../../../../src/stats/offenders/expected-events.ts";
import type { OffenderVerdict } from "../../../../src/stats/offenders/offender-verdicts.ts";
import { placeAdjusted } from "../../../../src/stats/offenders/place-adjusted.ts";
import { unitOrPosition } from "../../../../src/stats/offenders/unit-or-position.ts";
import { streamOf } from "../../../../src/stats/random/stream.ts";
import { drawnStretches } from "../drawn-stretches.ts";
import { gammaRatio } from "./gamma-ratio.ts";
import { judged, judgedByAge, judgedByExposure } from "./judged.ts";
import { type Rotation, rotatingFleet } from "./rotating-fleet.ts";

/** What became of a fleet: names by truth. */
type Outcome = { offenders: number; right: number; planted: number; success?: boolean };

/** A kind of fleet, drawn with a seed and the number of the fleet. */
export type FleetKind = { name: string; draw: (seed: number, number: number) => Outcome };

const UNITS = 400;
const PLANTED = 12;

type Judge = (stretches: Stretches, entities: number) => OffenderVerdict[];
const JUDGES: [string, Judge][] = [
  ["ages", judgedByAge],
  ["exposures", judgedByExposure],
];

function outcome(verdicts: OffenderVerdict[], planted = 0): Outcome {
  const isNamed = (verdict: OffenderVerdict) => verdict === "offender";
  return {
    offenders: verdicts.filter(isNamed).length,
    right: verdicts.slice(0, planted).filter(isNamed).length,
    planted,
  };
}

function nullKind(shape: number, mean: number, [by, judge]: [string, Judge]): FleetKind {
  return {
    name: `no offender, gaps of shape ${shape}, ${mean} expected, by ${by}`,
    draw: (seed, number) => outcome(judge(drawnStretches({ seed, number, units: UNITS, mean, shape }), UNITS)),
  };
}

function mildKind(mean: number): FleetKind {
  return {
    name: `mildly different units (cv 0.3), ${mean} expected, by exposures`,
    draw: (seed, number) => {
      const random = streamOf(seed, 1e6 + number);
      const ratios = Array.from({ length: UNITS }, () => gammaRatio(random, 0.3));
      const ratio = (unit: number) => ratios[unit]!;
      return outcome(judgedByExposure(drawnStretches({ seed, number, units: UNITS, mean, shape: 1, ratio }), UNITS));
    },
  };
}

function plantedKind(mean: number, [by, judge]: [string, Judge]): FleetKind {
  return {
    name: `twelve at 4 times the rate, ${mean} expected, by ${by}`,
    draw: (seed, number) => {
      const ratio = (unit: number) => (unit < PLANTED ? 4 : 1);
      const stretches = drawnStretches({ seed, number, units: UNITS, mean, shape: 1, ratio });
      return outcome(judge(stretches, UNITS), PLANTED);
    },
  };
}

/** 40 of the units come under observation worn, at 1.5 mean gaps of shape 3, and wear on; all others are watched from new for a while. */
function oldKind([by, judge]: [string, Judge]): FleetKind {
  return {
    name: `40 old and healthy units among young ones, gaps of shape 3, by ${by}`,
    draw: (seed, number) => outcome(judge(oldAndYoung(seed, number), UNITS)),
  };
}

function oldAndYoung(seed: number, number: number): Stretches {
  const random = streamOf(seed, number);
  const shape = 3;
  const rows: { entity: number; entry: number; stop: number; event: number }[] = [];
  for (let unit = 0; unit < UNITS; unit++) {
    const isOld = unit < 40;
    // an old unit has three worn frames in turn, each watched from an age on to its failure or for a while; a young one three new ones
    for (let frame = 0; frame < 3; frame++) {
      const entry = isOld ? 1 + 0.5 * random.uniform() : 0.05 * random.uniform();
      const end = entry + 0.4 + 0.6 * random.uniform();
      const life = (entry ** shape - Math.log1p(-random.uniform())) ** (1 / shape);
      rows.push({ entity: unit, entry, stop: Math.min(life, end), event: life <= end ? 1 : 0 });
    }
  }
  return {
    entity: Int32Array.from(rows, ({ entity }) => entity),
    entry: Float64Array.from(rows, ({ entry }) => entry),
    stop: Float64Array.from(rows, ({ stop }) => stop),
    event: Uint8Array.from(rows, ({ event }) => event),
  };
}

/** Success: the position is an offender, and no frame that ran there is one, nor is any blamed in its place. */
function rotatingKind(rotation: Rotation): FleetKind {
  const { positions, units, periods, mean } = rotation;
  return {
    name: `a bad place: ${units} units rotate over ${positions} positions, ${periods} periods, ${periods * mean} expected a place`,
    draw: (seed, number) => {
      const { cells, frames } = rotatingFleet(seed, number, rotation);
      const { unitExpected, positionExpected } = placeAdjusted(cells);
      const unitVerdicts = judged({ events: sums(cells, cells.unit, units), exposure: unitExpected });
      const places = judged({ events: sums(cells, cells.position, positions), exposure: positionExpected });
      const rows = [...cells.unit.keys()].filter((row) => cells.position[row] === 0);
      const told = crossedEffectsAt(cells, rows);
      if (!told.found) throw new Error(told.reason);
      const blames = told.at.map(({ cells, effects, cell }) => unitOrPosition(cells, effects, cell).verdict);
      const success =
        places[0] === "offender" &&
        frames.every((unit) => unitVerdicts[unit] !== "offender") &&
        blames.every((blame) => blame === "place");
      return { ...outcome(places, 1), success };
    },
  };
}

function sums({ events }: Cells, number: Int32Array, size: number): Float64Array {
  const total = new Float64Array(size);
  for (const [row, one] of number.entries()) total[one]! += events[row]!;
  return total;
}

/** All kinds of fleets that are simulated. */
export const FLEET_KINDS: FleetKind[] = [
  ...[3, 6].map((mean) => nullKind(1, mean, JUDGES[1]!)),
  ...[0.7, 2].flatMap((shape) => [3, 6].flatMap((mean) => JUDGES.map((judge) => nullKind(shape, mean, judge)))),
  ...[3, 6, 12].map(mildKind),
  ...[3, 6].flatMap((mean) => JUDGES.map((judge) => plantedKind(mean, judge))),
  ...JUDGES.map(oldKind),
  rotatingKind({ positions: 120, units: 160, periods: 8, mean: 3 }),
  rotatingKind({ positions: 120, units: 160, periods: 4, mean: 6 }),
];

/** Figures over many fleets of a kind. */
export type Tally = {
  name: string;
  fleets: number;
  /** Shares of fleets with an offender, and with more than one. */
  any: number;
  several: number;
  /** Mean share of the planted that was found; null where none were planted. */
  found: number | null;
  /** Mean share of the list that was not planted, an empty list having none. */
  falseShare: number;
  success: number | null;
};

/** Draws fleets of a kind and counts what became of them. */
export function tallied({ name, draw }: FleetKind, seed: number, fleets: number): Tally {
  const outcomes = Array.from({ length: fleets }, (_, number) => draw(seed, number));
  const share = (of: (outcome: Outcome) => number) => outcomes.reduce((sum, one) => sum + of(one), 0) / fleets;
  const [first] = outcomes;
  return {
    name,
    fleets,
    any: share(({ offenders }) => Number(offenders > 0)),
    several: share(({ offenders }) => Number(offenders > 1)),
    found: first?.planted === 0 ? null : share(({ right, planted }) => right / planted),
    falseShare: share(({ offenders, right }) => (offenders === 0 ? 0 : (offenders - right) / offenders)),
    success: first?.success === undefined ? null : share(({ success }) => Number(success)),
  };
}
