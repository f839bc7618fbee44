import { describe, expect, it } from "vitest";
import {
  countMoments,
  countsOfDraws,
  drawnDemand,
  firstSurvival,
  joinOpenings,
  type OpeningFleet,
  type Openings,
  poissonCounts,
  renewalTable,
  type SlotLaws,
  simulateOpenings,
} from "../../../src/stats/index.ts";
import { expectAgreement } from "../../agree.ts";

type Slot = { shape: number; scale: number; age?: number; restart?: number };

const all = (value: number, size: number) => new Float64Array(size).fill(value);

/** Like units of given slots, that run 100 hours a month. */
function like(units: number, slots: readonly Slot[], more: Partial<OpeningFleet> = {}): [OpeningFleet, SlotLaws] {
  const fleet: OpeningFleet = {
    slots: slots.length,
    group: new Int32Array(units),
    age: Float64Array.from({ length: units * slots.length }, (_, at) => slots[at % slots.length]!.age ?? 0),
    rate: all(100, units),
    ...more,
  };
  const laws: SlotLaws = {
    shape: Float64Array.from(slots, ({ shape }) => shape),
    scale: Float64Array.from(slots, ({ scale }) => scale),
    restart: Float64Array.from(slots, ({ restart }) => restart ?? 1),
  };
  return [fleet, laws];
}

const total = (found: Openings, slot?: number, from = 0, months = found.months - from) =>
  drawnDemand(found, { group: 0, from, months, ...(slot === undefined ? {} : { slot }) }).reduce(
    (sum, one) => sum + one,
    0,
  );

function exactTable(slots: readonly Slot[], hours: number) {
  const table = renewalTable(firstSurvival(slots.map(({ shape, scale }) => ({ shape, scale }))), hours);
  if ("reason" in table) throw new Error(table.reason);
  return table;
}

/** Within 4.5 standard errors, which chance exceeds once in 150,000 figures. */
function expectShares(drawn: Float64Array, exact: Float64Array, draws: number) {
  for (const [k, chance] of exact.entries()) {
    const error = Math.sqrt((chance * (1 - chance)) / draws);
    expectAgreement(drawn[k] ?? 0, chance, { abs: 4.5 * error + 3 / draws }, `count ${k}`);
  }
}

const DRAWS = 20_000;
const MONTHS = 36;

describe("simulateOpenings", () => {
  it.each([
    { name: "one new slot", slots: [{ shape: 1.8, scale: 1500 }] },
    { name: "one slot with an age", slots: [{ shape: 2.6, scale: 1500, age: 1200 }] },
    { name: "one slot whose hazard falls", slots: [{ shape: 0.7, scale: 1500, age: 300 }] },
    {
      name: "three slots that all restart",
      slots: [
        { shape: 1.5, scale: 4000, age: 900 },
        { shape: 2.5, scale: 3000, age: 2500 },
        { shape: 1, scale: 9000, age: 77 },
      ],
    },
  ])("counts as the renewal equation does: $name", ({ slots }) => {
    const found = simulateOpenings(...like(1, slots), { months: MONTHS, draws: DRAWS, seed: 1 });
    const exact = exactTable(slots, 100 * MONTHS);
    for (const months of [3, 12, MONTHS]) {
      const drawn = countsOfDraws(drawnDemand(found, { group: 0, from: 0, months }));
      expectShares(drawn, exact.counts(firstSurvival(slots), 100 * months), DRAWS);
    }
    // every slot restarts at every opening
    for (const slot of slots.keys()) expect(total(found, slot)).toBe(total(found));
    expect(found.stopped).toBe(0);
  });

  it.each([
    { shape: 1, ratio: 3 },
    { shape: 1.5, ratio: 2.0801 },
    { shape: 2.5, ratio: 1.5518 },
  ])("opens three like slots $ratio times as often as one at shape $shape, in the long run", ({ shape, ratio }) => {
    // by hand: 3^(1 / shape); from month 60 on, some four lives, so that the start counts no more
    const opened = (slots: number) => {
      const many = Array.from({ length: slots }, () => ({ shape, scale: 1500 }));
      const found = simulateOpenings(...like(50, many), { months: 240, draws: 60, seed: 2 });
      return total(found, undefined, 60);
    };
    // 3,000 unit-draws of some 11 openings and more: standard error 0.6 % at most
    expectAgreement(opened(3) / opened(1), ratio, { rel: 0.025 });
  });

  it("is Poisson at shape 1, and restarts other slots by their chance", () => {
    const slots = [
      { shape: 1, scale: 2000, age: 700, restart: 0.3 },
      { shape: 1, scale: 3000, age: 5, restart: 0 },
      { shape: 1, scale: 6000, restart: 1 },
    ];
    const found = simulateOpenings(...like(1, slots), { months: MONTHS, draws: DRAWS, seed: 3 });
    // by hand: rates of 1.8, 1.2 and 0.6 in 3,600 h
    expectShares(countsOfDraws(drawnDemand(found, { group: 0, from: 0, months: MONTHS })), poissonCounts(3.6), DRAWS);
    for (const [slot, mean] of [1.8 + 0.3 * 1.8, 1.2, 3.6].entries()) {
      // Poisson too: thinned and put together; standard error sqrt(mean / 20,000)
      const drawn = countsOfDraws(drawnDemand(found, { group: 0, slot, from: 0, months: MONTHS }));
      expectShares(drawn, poissonCounts(mean), DRAWS);
    }
    // each month as many: 2,000 a month, standard error 45
    for (let month = 0; month < MONTHS; month += 5) {
      expectAgreement(total(found, undefined, month, 1), (3.6 / MONTHS) * DRAWS, { abs: 200 });
    }
  });

  it("leaves a slot its age when it does not restart", () => {
    // the second slot never fails: openings are the first one's renewals; with a restart chance of 0 each counts its own
    const slots = [
      { shape: 3, scale: 1500, restart: 0 },
      { shape: 3, scale: 1500, age: 800, restart: 0 },
    ];
    const found = simulateOpenings(...like(1, slots), { months: MONTHS, draws: DRAWS, seed: 4 });
    const exact = exactTable(slots.slice(0, 1), 100 * MONTHS);
    for (const [slot, own] of slots.entries()) {
      const drawn = countsOfDraws(drawnDemand(found, { group: 0, slot, from: 0, months: MONTHS }));
      expectShares(drawn, exact.counts(firstSurvival([own]), 100 * MONTHS), DRAWS);
    }
    expect(total(found)).toBe(total(found, 0) + total(found, 1));
  });

  it("opens at planned dates, however many, in any order, without any law", () => {
    const never = { shape: 1, scale: Number.POSITIVE_INFINITY };
    const planned = { unit: Int32Array.of(1, 0, 1, 1), month: Float64Array.of(30.5, 0, 11.99, 36) };
    const [fleet, laws] = like(2, [never, { ...never, restart: 0.25 }], { planned });
    const found = simulateOpenings(fleet, laws, { months: MONTHS, draws: DRAWS, seed: 5 });
    const months = Array.from({ length: MONTHS }, (_, month) => total(found, undefined, month, 1) / DRAWS);
    expect(months.flatMap((share, month) => (share > 0 ? [[month, share]] : []))).toEqual([
      [0, 1],
      [11, 1],
      [30, 1],
    ]);
    expect(total(found, 0)).toBe(3 * DRAWS);
    // standard error sqrt(3 * 0.25 * 0.75 / 20,000) = 0.0053
    expectAgreement(total(found, 1) / DRAWS, 0.75, { abs: 0.024 });
  });

  it("renews at a planned date: a unit opened half way fails as a new one does", () => {
    const slot = { shape: 2.5, scale: 3000 };
    const planned = { unit: Int32Array.of(0), month: Float64Array.of(18) };
    const found = simulateOpenings(...like(1, [slot], { planned }), { months: MONTHS, draws: DRAWS, seed: 6 });
    const expected = exactTable([slot], 1800).mean(firstSurvival([slot]), 1800);
    // a mean of 0.24 each half: standard error 0.004
    expectAgreement(total(found, 0, 0, 18) / DRAWS, expected, { abs: 0.018 });
    expectAgreement(total(found, 0, 18) / DRAWS - 1, expected, { abs: 0.018 });
  });

  it("counts nothing after a unit has left, nor of one that does not run", () => {
    const slots = [{ shape: 1, scale: 500 }];
    const leaves = Float64Array.of(12, 0, Number.POSITIVE_INFINITY);
    const planned = { unit: Int32Array.of(0, 1, 2), month: Float64Array.of(12, 0, 5) };
    const [fleet, laws] = like(3, slots, {
      leaves,
      planned,
      rate: Float64Array.of(100, 100, 0),
      countedIn: Int32Array.of(0, 1, 2),
    });
    const found = simulateOpenings(fleet, laws, { months: MONTHS, draws: 4000, seed: 7 });
    const demand = (group: number, from: number, months: number) =>
      drawnDemand(found, { group, from, months }).reduce((sum, one) => sum + one, 0);
    // 1,200 h over 500 h: 2.4, standard error 0.025
    expectAgreement(demand(0, 0, 12) / 4000, 2.4, { abs: 0.11 });
    expect(demand(0, 12, 24)).toBe(0);
    expect(demand(1, 0, MONTHS)).toBe(0);
    expect([demand(2, 0, 5), demand(2, 5, 1), demand(2, 6, 30)]).toEqual([0, 4000, 0]);
  });

  it("draws the running rate about its middle, once a draw", () => {
    const [fleet, laws] = like(1, [{ shape: 1, scale: 1800, age: 40 }], { rateSpread: Float64Array.of(0.5) });
    const found = simulateOpenings(fleet, laws, { months: MONTHS, draws: DRAWS, seed: 8 });
    const { mean, variance } = countMoments(countsOfDraws(drawnDemand(found, { group: 0, from: 0, months: MONTHS })));
    // by hand: lognormal mean 2 exp(0.125), and its variance (exp(0.25) - 1) mean^2 beside Poisson's
    const expected = 2 * Math.exp(0.125);
    expectAgreement(mean, expected, { rel: 0.03 });
    expectAgreement(variance, expected + Math.expm1(0.25) * expected ** 2, { rel: 0.07 });
  });

  it("takes the laws of each draw, and each group its own", () => {
    const [fleet] = like(2, [{ shape: 1, scale: 1 }]);
    const laws = { shape: all(1, 4), scale: Float64Array.of(900, 1e9, 1800, 1e9), restart: Float64Array.of(1, 1) };
    const found = simulateOpenings({ ...fleet, group: Int32Array.of(0, 1) }, laws, {
      months: MONTHS,
      draws: DRAWS,
      seed: 9,
    });
    const drawn = drawnDemand(found, { group: 0, from: 0, months: MONTHS });
    const mean = (parity: number) =>
      drawn.reduce((sum, one, draw) => sum + (draw % 2 === parity ? one : 0), 0) / (DRAWS / 2);
    // 3,600 h over 900 and 1,800 h: standard errors 0.02, 0.014
    expectAgreement(mean(0), 4, { abs: 0.09 });
    expectAgreement(mean(1), 2, { abs: 0.065 });
    expect(drawnDemand(found, { group: 1, from: 0, months: MONTHS }).reduce((sum, one) => sum + one, 0)).toBe(0);
  });

  it("gives a unit's draw the same whoever draws it, in whatever order, beside whatever units", () => {
    const slots = [
      { shape: 1.4, scale: 2000, age: 500 },
      { shape: 2, scale: 3000, restart: 0.4 },
    ];
    const spread = { rateSpread: all(0.2, 6), countedIn: Int32Array.of(0, 1, 2, 0, 1, 2) };
    const [fleet, laws] = like(6, slots, spread);
    const whole = simulateOpenings(fleet, laws, { months: 24, draws: 50, seed: 10 });
    const parts = [
      [0, 7],
      [7, 30],
      [37, 13],
    ].map(([from, draws]) => simulateOpenings(fleet, laws, { months: 24, draws: draws!, seed: 10, from: from! }));
    expect(joinOpenings(parts)).toEqual(whole);
    const [alone] = like(1, slots, { rateSpread: all(0.2, 1), key: Int32Array.of(4) });
    const [others] = like(1, slots, { rateSpread: all(0.2, 1), key: Int32Array.of(1) });
    const summed = [alone, others].map(
      (one) => simulateOpenings(one, laws, { months: 24, draws: 50, seed: 10 }).pieces,
    );
    const group = whole.pieces.subarray(50 * 2 * 24, 2 * 50 * 2 * 24);
    expect(summed[0]!.map((pieces, at) => pieces + summed[1]![at]!)).toEqual(group);
    expect(simulateOpenings(fleet, laws, { months: 24, draws: 50, seed: 11 }).pieces).not.toEqual(whole.pieces);
    // the months ahead don't change what comes before them
    expect(total(simulateOpenings(fleet, laws, { months: 60, draws: 50, seed: 10 }), 0, 0, 24)).toBe(total(whole, 0));
  });

  it("breaks off units that open for ever, and counts nothing of no units", () => {
    const absurd = simulateOpenings(
      ...like(1, [
        { shape: 0.05, scale: 1e-9 },
        { shape: 500, scale: 1e-300 },
      ]),
      { months: 1, draws: 3, seed: 1 },
    );
    expect(absurd.stopped).toBe(3);
    expect(total(absurd)).toBe(3000);
    const none = simulateOpenings(...like(0, [{ shape: 1, scale: 1 }]), { months: 5, draws: 4, seed: 1 });
    expect([none.groups, none.pieces.length]).toEqual([0, 0]);
    const old = simulateOpenings(...like(1, [{ shape: 30, scale: 10, age: 1e9 }]), { months: 1, draws: 20, seed: 1 });
    expect(total(old)).toBeGreaterThan(0);
    const tiny = simulateOpenings(
      ...like(1, [{ shape: 2, scale: 1e300, age: 1e-300 }], { rate: Float64Array.of(1e-300) }),
      { months: 1, draws: 20, seed: 1 },
    );
    expect(total(tiny)).toBe(0);
  });

  it("refuses fleets and laws that don't fit together", () => {
    const [fleet, laws] = like(2, [{ shape: 1, scale: 1 }]);
    const ahead = { months: 3, draws: 2, seed: 1 };
    const nan = all(Number.NaN, 2);
    const wrongFleets: Partial<OpeningFleet>[] = [
      { slots: 0 },
      { slots: 2 },
      { group: Int32Array.of(0, 1) },
      { group: Int32Array.of(0, -1) },
      { age: all(-1, 2) },
      { age: all(0, 3) },
      { rate: nan },
      { rateSpread: all(-1, 2) },
      { leaves: nan },
      { leaves: all(-1, 2) },
      { countedIn: Int32Array.of(0, -1) },
      { key: new Int32Array(1) },
      { planned: { unit: Int32Array.of(2), month: all(1, 1) } },
      { planned: { unit: Int32Array.of(0), month: all(-1, 1) } },
      { planned: { unit: Int32Array.of(0), month: all(1, 2) } },
    ];
    for (const wrong of wrongFleets) {
      expect(() => simulateOpenings({ ...fleet, ...wrong }, laws, ahead), Object.keys(wrong)[0]).toThrow(RangeError);
    }
    for (const wrong of [
      { shape: all(0, 1) },
      { scale: all(Number.NaN, 1) },
      { restart: all(1.1, 1) },
      { shape: all(1, 2) },
      { shape: all(1, 0), scale: all(1, 0) },
    ]) {
      expect(() => simulateOpenings(fleet, { ...laws, ...wrong }, ahead)).toThrow(RangeError);
    }
    for (const wrong of [{ months: 0 }, { draws: 0 }, { seed: 0.5 }, { from: -1 }]) {
      expect(() => simulateOpenings(fleet, laws, { ...ahead, ...wrong })).toThrow(RangeError);
    }
    const found = simulateOpenings(fleet, laws, ahead);
    for (const wrong of [{ group: 1 }, { slot: 1 }, { months: 4 }, { from: -1 }]) {
      expect(() => drawnDemand(found, { group: 0, from: 0, months: 1, ...wrong })).toThrow(RangeError);
    }
    expect(() => joinOpenings([])).toThrow("there are none");
    expect(() => joinOpenings([found, { ...found, months: 2 }])).toThrow(RangeError);
  });
});

describe("parts that are taken after the opening", () => {
  it("come so many months later, and what is not built in time is not counted", () => {
    const [fleet, laws] = like(200, [{ shape: 1.5, scale: 3000 }]);
    const ahead = { months: 24, draws: 200, seed: 1 };
    const now = simulateOpenings(fleet, laws, ahead);
    const later = simulateOpenings({ ...fleet, delay: all(3, 200) }, laws, ahead);
    expect(total(later, undefined, 0, 3)).toBe(0);
    // The same openings, three whole months later
    for (const months of [6, 12, 24])
      expect(total(later, undefined, 0, months)).toBe(total(now, undefined, 0, months - 3));
  });

  it("are those of a planned opening too", () => {
    const [fleet, laws] = like(1, [{ shape: 1, scale: Number.POSITIVE_INFINITY }], {
      planned: { unit: Int32Array.of(0), month: Float64Array.of(0) },
      delay: Float64Array.of(1.5),
    });
    const found = simulateOpenings(fleet, laws, { months: 4, draws: 1, seed: 1 });
    expect([...found.openings]).toEqual([0, 1, 0, 0]);
  });

  it("refuses a delay below 0", () => {
    const [fleet, laws] = like(1, [{ shape: 1, scale: 100 }], { delay: Float64Array.of(-1) });
    expect(() => simulateOpenings(fleet, laws, { months: 4, draws: 1, seed: 1 })).toThrow("delay must be 0 or more");
  });
});

describe("restart chances that are drawn", () => {
  it("are those of the set that a draw takes", () => {
    const [fleet, laws] = like(50, [
      { shape: 1, scale: 500 },
      { shape: 1, scale: Number.POSITIVE_INFINITY, restart: 0.5 },
    ]);
    const sets = {
      ...laws,
      shape: Float64Array.of(1, 1, 1, 1),
      scale: Float64Array.of(500, Number.POSITIVE_INFINITY, 500, Number.POSITIVE_INFINITY),
    };
    const found = simulateOpenings(
      fleet,
      { ...sets, restarts: Float64Array.of(1, 0, 1, 1) },
      { months: 12, draws: 100, seed: 1 },
    );
    const taken = drawnDemand(found, { group: 0, from: 0, months: 12, slot: 1 });
    const opened = drawnDemand(found, { group: 0, from: 0, months: 12 });
    // Even draws take the set in which the other slot stays, odd ones that in which it always restarts
    for (const [draw, pieces] of taken.entries()) expect(pieces).toBe(draw % 2 === 0 ? 0 : opened[draw]);
  });

  it("refuses as many as there are no laws of, and what are no chances", () => {
    const [fleet, laws] = like(1, [{ shape: 1, scale: 100 }]);
    const ahead = { months: 4, draws: 1, seed: 1 };
    expect(() => simulateOpenings(fleet, { ...laws, restarts: Float64Array.of(1, 1) }, ahead)).toThrow(
      "as many as laws",
    );
    expect(() => simulateOpenings(fleet, { ...laws, restarts: Float64Array.of(1.5) }, ahead)).toThrow("not in [0, 1]");
  });
});
