import { describe, expect, it } from "vitest";
import type { Cells } from "../../../src/stats/offenders/cells.ts";
import { type FoundCrossedEffects, fitCrossedEffects } from "../../../src/stats/offenders/crossed-effects.ts";
import { crossedEffectsAt } from "../../../src/stats/offenders/crossed-effects-at.ts";
import { rowsAlone, rowsAround, rowsByOwner } from "../../../src/stats/offenders/near-rows.ts";
import { fitNormalSpread } from "../../../src/stats/offenders/normal-spread.ts";
import { placeAdjusted } from "../../../src/stats/offenders/place-adjusted.ts";
import { unitOrPosition } from "../../../src/stats/offenders/unit-or-position.ts";
import { streamOf } from "../../../src/stats/random/stream.ts";
import { expectAgreement } from "../../agree.ts";
import { rotatingFleet } from "./simulation/rotating-fleet.ts";

// Made for this test: six units at four positions
const cells: Cells = {
  unit: Int32Array.of(0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 5),
  position: Int32Array.of(0, 1, 2, 0, 3, 0, 2, 1, 3, 2, 3, 0, 1, 3),
  events: Float64Array.of(9, 3, 2, 10, 4, 22, 9, 5, 2, 3, 8, 10, 4, 3),
  expected: Float64Array.of(4, 3, 2.5, 5, 3, 3, 4, 4, 3, 3.5, 4, 5, 3, 4),
  units: 6,
  positions: 4,
};

function fitted(of: Cells): FoundCrossedEffects {
  const effects = fitCrossedEffects(of);
  if (!effects.found) throw new Error(effects.reason);
  return effects;
}

type Row = [unit: number, position: number, events: number, expected: number];

function cellsOf(rows: Row[]): Cells {
  return {
    unit: Int32Array.from(rows, ([unit]) => unit),
    position: Int32Array.from(rows, ([, position]) => position),
    events: Float64Array.from(rows, ([, , events]) => events),
    expected: Float64Array.from(rows, ([, , , expected]) => expected),
    units: Math.max(0, ...rows.map(([unit]) => unit + 1)),
    positions: Math.max(0, ...rows.map(([, position]) => position + 1)),
  };
}

describe("fitCrossedEffects", () => {
  // numpy 2.4.6, scipy 1.17.1: dense Newton for the joint mode, minus half of slogdet of the effects' curvature, minimize(method="Nelder-Mead")
  const known = {
    unitSd: 0.45856507,
    positionSd: 0.4036996,
    logLikelihood: -36.23791994256412,
    level: 0.47017394,
    unit: [-0.19290003, -0.17444774, 0.78440934, -0.24808812, 0.09353243, -0.26250588],
    position: [0.51229524, -0.03478243, -0.36750958, -0.11000323],
    unitError: [0.25699767, 0.26171559, 0.23263635, 0.30452579, 0.28645617, 0.24327567],
    positionError: [0.20012055, 0.2632247, 0.24925882, 0.23956585],
    correlation: [-0.42343113, -0.27976189, -0.24013915, -0.47705567, -0.27026929, -0.57236439, -0.47116095],
  };

  it("finds the spreads, effects and correlations that dense matrices give", () => {
    const effects = fitted(cells);
    expectAgreement(effects.logLikelihood, known.logLikelihood, { abs: 1e-6 });
    for (const name of ["unitSd", "positionSd", "level"] as const) {
      expectAgreement(effects[name], known[name], { rel: 5e-4 }, name);
    }
    for (const [unit, mean] of known.unit.entries()) {
      expectAgreement(effects.unit.mean[unit], mean, { abs: 3e-4 });
      expectAgreement(effects.unit.sd[unit], known.unitError[unit]!, { rel: 5e-4 });
    }
    for (const [position, mean] of known.position.entries()) {
      expectAgreement(effects.position.mean[position], mean, { abs: 3e-4 });
      expectAgreement(effects.position.sd[position], known.positionError[position]!, { rel: 5e-4 });
    }
    for (const [cell, correlation] of known.correlation.entries()) {
      expectAgreement(effects.correlation[cell], correlation, { abs: 5e-4 });
    }
  });

  it("numbers the connected parts, and leaves out what nothing was expected of", () => {
    const effects = fitted(
      cellsOf([
        [0, 0, 3, 2],
        [1, 0, 1, 2],
        [2, 1, 4, 2],
        [2, 2, 2, 2],
        [3, 3, 5, 0],
      ]),
    );
    expect([...effects.unit.component]).toEqual([0, 0, 1, -1]);
    expect([...effects.position.component]).toEqual([0, 1, 1, -1]);
    expect([effects.unit.mean[3], effects.unit.sd[3], effects.correlation[4]]).toEqual([0, effects.unitSd, 0]);
  });

  it.each([
    { name: "no rows", rows: [], reason: "no events were expected anywhere" },
    { name: "nothing expected", rows: [[0, 0, 3, 0]], reason: "no events were expected anywhere" },
    {
      name: "no events",
      rows: [
        [0, 0, 0, 1],
        [1, 1, 0, 2],
      ],
      reason: "there are no events",
    },
    {
      name: "one unit",
      rows: [
        [0, 0, 1, 1],
        [0, 1, 3, 2],
      ],
      reason: "only one unit ran",
    },
    {
      name: "one position",
      rows: [
        [0, 0, 1, 1],
        [1, 0, 3, 2],
      ],
      reason: "units ran at one position only",
    },
  ] as { name: string; rows: Row[]; reason: string }[])("says why it can't tell: $name", ({ rows, reason }) => {
    expect(fitCrossedEffects(cellsOf(rows))).toEqual({ found: false, reason });
  });

  it.each([
    {
      name: "huge counts",
      rows: [
        [0, 0, 1e9, 1e9],
        [1, 0, 2e9, 1e9],
        [1, 1, 1e9, 1e9],
      ],
    },
    {
      name: "a billionth expected",
      rows: [
        [0, 0, 1, 1e-9],
        [1, 0, 0, 1e-9],
        [1, 1, 2, 1e9],
      ],
    },
    {
      name: "all alike",
      rows: [
        [0, 0, 2, 2],
        [1, 0, 2, 2],
        [1, 1, 2, 2],
        [0, 1, 2, 2],
      ],
    },
  ] as { name: string; rows: Row[] }[])("comes to an end on $name", ({ rows }) => {
    const effects = fitted(cellsOf(rows));
    for (const { mean, sd } of [effects.unit, effects.position]) {
      expect([...mean, ...sd].every((value) => Number.isFinite(value))).toBe(true);
    }
  });

  it("takes thousands of units and hundreds of positions", () => {
    const { cells } = rotatingFleet(8, 0, { positions: 300, units: 2500, periods: 4, mean: 8 });
    const effects = fitted(cells);
    expect(unitOrPosition(cells, effects, [...cells.position].indexOf(0)).place.ratio).toBeGreaterThan(1.5);
  });

  it("refuses what are no counts of pairs", () => {
    expect(() => fitCrossedEffects({ ...cells, units: 3 })).toThrow("unit 3");
    expect(() => fitCrossedEffects({ ...cells, events: cells.events.map((n) => n + 0.5) })).toThrow("9.5 events");
    expect(() => fitCrossedEffects({ ...cells, events: new Float64Array(2) })).toThrow("columns differ in length");
  });
});

describe("fitNormalSpread", () => {
  const counts = {
    events: Float64Array.of(9, 3, 2, 10, 4, 22, 9, 5, 2, 3, 8, 0),
    exposure: Float64Array.of(4, 3, 2.5, 5, 3, 3, 4, 4, 3, 3.5, 4, 5),
  };

  it("finds the level and the spread that a search from outside finds", () => {
    // numpy 2.4.6, scipy 1.17.1: brentq for each effect, minimize(method="Nelder-Mead") for level and log spread
    const { level, sd, logLikelihood } = fitNormalSpread(counts);
    expectAgreement(level, 0.30113428530132524, { abs: 2e-5 });
    expectAgreement(sd, 0.7493088337350461, { rel: 5e-5 });
    expectAgreement(logLikelihood, -34.714792198451356, { rel: 1e-10 });
  });

  it("takes no notice of what was not watched, and of a scale", () => {
    const { level, sd } = fitNormalSpread(counts);
    const more = { events: Float64Array.of(...counts.events, 7), exposure: Float64Array.of(...counts.exposure, 0) };
    expect(fitNormalSpread(more)).toEqual(fitNormalSpread(counts));
    const scaled = fitNormalSpread({ ...counts, exposure: counts.exposure.map((one) => one * 1000) });
    expectAgreement(scaled.level, level - Math.log(1000), { abs: 1e-3 });
    expectAgreement(scaled.sd, sd, { rel: 1e-3 });
  });

  it.each([
    { name: "no more spread than chance makes", events: [3, 3, 3, 3], most: 0.02 },
    { name: "one entity", events: [5], most: 4 },
    { name: "no events", events: [0, 0, 0], most: 4 },
    { name: "huge counts", events: [1e9, 2e9, 4e9], most: 4 },
  ])("comes to an end: $name", ({ events, most }) => {
    const { level, sd } = fitNormalSpread({
      events: Float64Array.from(events),
      exposure: new Float64Array(events.length).fill(3),
    });
    expect(Number.isFinite(level)).toBe(true);
    expect(sd).toBeGreaterThanOrEqual(0.01);
    expect(sd).toBeLessThanOrEqual(most);
  });
});

describe("crossedEffectsAt", () => {
  const verdictsAt = (of: Cells, rows: number[]) => {
    const told = crossedEffectsAt(of, rows);
    if (!told.found) throw new Error(told.reason);
    return told.at.map((at) => unitOrPosition(at.cells, at.effects, at.cell));
  };

  it("gives a pair that was picked a spread of 1, and leaves the rest as it is", () => {
    // numpy 2.4.6, scipy 1.17.1: dense Newton for the joint mode at the level and spreads above, unit 2 and position 0 given a spread of 1;
    // standard errors and correlation from the inverse of the effects' curvature
    const [told] = verdictsAt(cells, [5]);
    expectAgreement(told!.frame.ratio, 2.430705700035527, { rel: 2e-3 });
    expectAgreement(told!.place.ratio, 1.7005044765421142, { rel: 2e-3 });
    expectAgreement(told!.correlation, -0.6869692174140926, { abs: 2e-3 });
    expect(told).toMatchObject({ verdict: "both", moves: 4 });
  });

  it("says of thousands of rows what was planted", () => {
    const { cells, frames } = rotatingFleet(8, 0, { positions: 300, units: 4000, periods: 10, mean: 8 });
    expect(cells.unit.length).toBeGreaterThan(2000);
    const row = [...cells.position].indexOf(0);
    const [told] = verdictsAt(cells, [row]);
    expect(told).toMatchObject({ verdict: "place" });
    expect(frames.length).toBe(10);
    expect(told!.place.low).toBeLessThan(4);
    expect(told!.place.high).toBeGreaterThan(4);
  });

  it("blames the one bad frame among hundreds that move, and not the places", () => {
    const { cells } = rotatingFleet(3, 0, { positions: 100, units: 400, periods: 12, mean: 3 });
    const bad = cells.unit[40]!;
    const events = cells.events.map((n, row) => (cells.unit[row] === bad ? n + 3 : n));
    const row = [...cells.unit].indexOf(bad);
    expect(verdictsAt({ ...cells, events }, [row])[0]!.verdict).toBe("frame");
  });

  it("tells frame from place where so much hangs together that not all can be fitted at once", () => {
    const random = streamOf(4, 0);
    const rows = Array.from({ length: 9000 }, (_, at): Row => {
      const [unit, position] = [at % 900, random.below(900)];
      return [unit, position, unit === 7 ? 4 : random.below(2), 0.5];
    });
    const dense = cellsOf(rows);
    expect(fitCrossedEffects(dense)).toMatchObject({ found: false, reason: expect.stringContaining("hang together") });
    expect(verdictsAt(dense, [7])[0]!.verdict).toBe("frame");
  });

  it("can't tell a pair of which nothing was expected", () => {
    const rows = cellsOf([
      [0, 0, 3, 2],
      [1, 1, 1, 2],
      [2, 1, 4, 2],
      [3, 2, 5, 0],
    ]);
    expect(verdictsAt(rows, [3])[0]).toMatchObject({ verdict: "untold", moves: 0 });
    expect(crossedEffectsAt(cellsOf([]), [])).toMatchObject({ found: false });
  });
});

describe("rowsAround", () => {
  // unit 0 at positions 0 and 1, unit 1 at 1 and 2, unit 2 at 2 and 3, unit 3 at 4 with nothing expected
  const chain = cellsOf([
    [0, 0, 1, 1],
    [0, 1, 1, 1],
    [1, 1, 1, 1],
    [1, 2, 1, 1],
    [2, 2, 1, 1],
    [2, 3, 1, 1],
    [3, 4, 1, 0],
  ]);

  it.each([
    { row: 0, enough: 1, rows: [0, 1] },
    { row: 0, enough: 3, rows: [0, 1, 2] },
    { row: 3, enough: 1, rows: [2, 3, 4] },
    { row: 0, enough: 100, rows: [0, 1, 2, 3, 4, 5] },
    { row: 6, enough: 100, rows: [6] },
  ])("takes those nearest to row $row until there are $enough", ({ row, enough, rows }) => {
    expect([...rowsAround(chain, rowsByOwner(chain), row, enough)]).toEqual(rows);
  });

  it("numbers what is left anew", () => {
    const alone = rowsAlone(chain, Uint32Array.of(3, 4));
    expect({ ...alone, unit: [...alone.unit], position: [...alone.position] }).toMatchObject({
      unit: [0, 1],
      position: [0, 0],
      units: 2,
      positions: 1,
    });
  });
});

describe("unitOrPosition", () => {
  it("blames the frame that is bad wherever it runs, and the place where all frames are bad", () => {
    const effects = fitted(cells);
    // unit 2 has 22 of 3 and 9 of 4 expected; all at position 0 have twice and more
    expect(unitOrPosition(cells, effects, 6)).toMatchObject({ verdict: "frame", moves: 3 });
    expect(unitOrPosition(cells, effects, 0)).toMatchObject({ verdict: "place", moves: 5 });
    expect(unitOrPosition(cells, effects, 8).verdict).toBe("neither");
    const { frame, place } = unitOrPosition(cells, effects, 5);
    // exp of the figures above; low and high 1.959964 of their standard errors away
    expectAgreement(frame.ratio, Math.exp(0.78440934), { rel: 1e-3 });
    expectAgreement(frame.low, Math.exp(0.78440934 - 1.959964 * 0.23263635), { rel: 1e-3 });
    expectAgreement(place.high, Math.exp(0.51229524 + 1.959964 * 0.20012055), { rel: 1e-3 });
  });

  it("says nothing of a pair that never parted", () => {
    const apart: Row[] = Array.from({ length: 12 }, (_, at) => [at, at, at === 3 ? 30 : at % 4, 2]);
    const rows = cellsOf(apart);
    const { verdict, moves, correlation } = unitOrPosition(rows, fitted(rows), 3);
    expect({ verdict, moves }).toEqual({ verdict: "untold", moves: 0 });
    expect(correlation).toBeLessThan(0);
    expect(() => unitOrPosition(rows, fitted(rows), 12)).toThrow("no row 12");
  });
});

describe("placeAdjusted", () => {
  it("expects more of frames that ran at a bad place, and no more of the place for that", () => {
    const { cells, frames } = rotatingFleet(5, 1, { positions: 60, units: 80, periods: 6, mean: 5 });
    const { unitExpected, positionExpected } = placeAdjusted(cells);
    const plain = new Float64Array(cells.units);
    for (const [row, unit] of cells.unit.entries()) plain[unit]! += cells.expected[row]!;
    for (const unit of frames) expect(unitExpected[unit]! / plain[unit]!).toBeGreaterThan(1.2);
    const place = [...cells.position.keys()].filter((row) => cells.position[row] === 0);
    const expected = place.reduce((sum, row) => sum + cells.expected[row]!, 0);
    // its frames are ordinary elsewhere
    expectAgreement(positionExpected[0], expected, { rel: 0.1 });
  });

  it("leaves what is expected as it is where there is nothing to learn", () => {
    const rows = cellsOf([
      [0, 0, 0, 3],
      [1, 1, 0, 2],
    ]);
    expect([...placeAdjusted(rows).unitExpected]).toEqual([3, 2]);
  });
});
