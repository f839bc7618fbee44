import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Stream, streamOf } from "../../../../src/stats/random/stream.ts";
import type { RecurrentEvents } from "../../../../src/stats/recurrence/recurrent-events.ts";
import { laplaceTest } from "../../../../src/stats/recurrence/trend/laplace.ts";
import { lewisRobinsonTest } from "../../../../src/stats/recurrence/trend/lewis-robinson.ts";
import { powerLawTrendTest } from "../../../../src/stats/recurrence/trend/power-law-trend.ts";
import { reverseArrangementTest } from "../../../../src/stats/recurrence/trend/reverse-arrangements.ts";
import { trendTests, trendTestsByUnit } from "../../../../src/stats/recurrence/trend/trend-tests.ts";
import { expectAgreement } from "../../../agree.ts";
import { CROW, crowSystems, eventsOf, inUnits, repairs, seats, tenRepairs, valveSeats } from "../recurrent-cases.ts";

/** Where a published figure is in the tests. */
const FIGURES: Record<string, (events: RecurrentEvents) => number | null> = {
  "laplace.z": (events) => laplaceTest(events).statistic,
  "laplace.p_two_sided": (events) => laplaceTest(events).p,
  "milhdbk189.chisq": (events) => powerLawTrendTest(events).statistic,
  "milhdbk189.df": (events) => powerLawTrendTest(events).degrees,
  "milhdbk189.p_lower": (events) => powerLawTrendTest(events).lower,
  "milhdbk189.p_upper": (events) => powerLawTrendTest(events).upper,
  "milhdbk189.p_two_sided": (events) => powerLawTrendTest(events).p,
};

describe.each([
  { what: "valve seats of 41 engines", published: seats, events: valveSeats(), direction: "deteriorating" },
  { what: "ten repairs of one system", published: repairs, events: tenRepairs(), direction: "improving" },
])("trend tests agree with the published case on $what", ({ published, events, direction }) => {
  it.each(Object.entries(FIGURES))("in %s", (name, figure) => {
    const { value, tolerance } = published.value(name);
    expectAgreement(figure(events), value, tolerance, name);
  });

  it("in the direction", () => {
    expect(laplaceTest(events).direction).toBe(direction);
    expect(powerLawTrendTest(events).direction).toBe(direction);
  });
});

describe("reverseArrangementTest", () => {
  it("finds the published number of pairs for ten repairs, and half of all pairs as what to expect", () => {
    const found = reverseArrangementTest(tenRepairs());
    const { value, tolerance } = repairs.value("reverse_arrangements");
    expectAgreement(found.laterLonger, value, tolerance);
    const expected = repairs.value("reverse_arrangements_expected");
    expectAgreement(found.pairs / 2, expected.value, expected.tolerance);
    expect(found).toMatchObject({ tied: 1, pairs: 45, exact: true, direction: "improving", events: 10, units: 1 });
  });

  // R 4.2.2: cor.test(seq_along(gaps), gaps, method = "kendall", exact = TRUE)$p.value, on diff(c(0, ages))
  it.each([
    // W-TR1, no tie: the 35 after 5 made 35.5; one-sided 0.0363 there
    {
      what: "the ten gaps without their tie",
      gaps: [5, 35.5, 3, 132, 214, 323, 35, 48, 504, 179],
      pairs: 33,
      p: 0.0725501543209877,
    },
    { what: "system 1", gaps: gapsOf(CROW[0]!), pairs: 33, p: 0.0725501543209877 },
    { what: "system 2", gaps: gapsOf(CROW[1]!), pairs: 74, p: 0.0358972373678887 },
    { what: "system 3", gaps: gapsOf(CROW[2]!), pairs: 33, p: 0.445382144861312 },
  ])("has R's exact p for $what", ({ gaps, pairs, p }) => {
    const found = reverseArrangementTest(withGaps(gaps));
    expect(found.laterLonger).toBe(pairs);
    expectAgreement(found.p, p, { rel: 1e-10 });
  });

  it("counts all orders of a few gaps with ties, and of two units together", () => {
    // Python: over itertools.permutations([5, 35, 3, 35, 214]) a share of 1/6 has 7 or more later-longer pairs, 14/15 has 7 or fewer
    const one = [5, 35, 3, 35, 214];
    expectAgreement(reverseArrangementTest(withGaps(one)).p, 1 / 3, { abs: 1e-14 });
    // By hand: 3 gaps have 0, 1, 2, 3 such pairs in 1, 2, 2, 1 of 6 orders; 6 in all from two units in 1 of 36, so p = 2 / 36
    expectAgreement(reverseArrangementTest(withGaps([1, 2, 3], [4, 7, 9])).p, 2 / 36, { abs: 1e-14 });
  });

  it("has the spread of its definition beyond 500 pairs: (pairs / 2 - later longer) / sqrt(n (n - 1) (2 n + 5) / 72)", () => {
    const gaps = Array.from({ length: 40 }, (_, at) => 100 + ((at * 17) % 40) - at / 2);
    const found = reverseArrangementTest(withGaps(gaps));
    let longer = 0;
    for (const [at, gap] of gaps.entries()) longer += gaps.slice(at + 1).filter((later) => later > gap).length;
    expect(found).toMatchObject({ laterLonger: longer, pairs: 780, exact: false });
    expectAgreement(found.statistic, (390 - longer) / Math.sqrt((40 * 39 * 85) / 72), { rel: 1e-12 });
    // R: 2 * pnorm(-abs(z)), whose quantile qnorm(0.975) is 1.959964
    expect(found.p! < 0.05).toBe(Math.abs(found.statistic!) > 1.959963985);
  });

  it("sees ties through the rounding of ages", () => {
    // 0.1, 0.2, ..., whose differences are not equal in binary
    const tenths = eventsOf({ ages: Array.from({ length: 50 }, (_, at) => (at + 1) / 10), end: 7 });
    expect(reverseArrangementTest(tenths)).toMatchObject({ laterLonger: 0, tied: 1225, pairs: 1225, p: null });
    const sevenths = eventsOf({ ages: Array.from({ length: 50 }, (_, at) => (at + 1) / 7), end: 8 });
    expect(reverseArrangementTest(sevenths)).toMatchObject({ laterLonger: 0, tied: 1225, pairs: 1225, p: null });
  });

  it("leaves out the time up to the first event of a unit that entered late", () => {
    const late = eventsOf({ ages: [11, 13, 18], entry: 10, end: 20 });
    expect(reverseArrangementTest(late)).toMatchObject({ events: 2, pairs: 1, laterLonger: 1, p: 1 });
  });
});

describe("laplaceTest and powerLawTrendTest", () => {
  // R 4.2.2, t the ages that count: sum(t - (a + T) / 2) / sqrt(length(t) * (T - a)^2 / 12), sums over systems before the division;
  // 2 * sum(log((T - a) / (t - a))) and pchisq(x, 2 * length(t))
  it.each([
    {
      what: "three systems to 200 h",
      events: crowSystems(),
      z: -3.01203635436228,
      square: 117.009195679315,
      lower: 0.999365374556104,
    },
    {
      what: "ten repairs up to the last, which is not counted",
      events: tenRepairs(1478),
      z: -1.91095907772371,
      square: 36.9325757718401,
      lower: 0.994652494583475,
    },
    {
      what: "the repairs after 100 h, of a system watched from there",
      events: eventsOf({ ages: [175, 389, 712, 747, 795, 1299, 1478], entry: 100, end: 1500 }),
      z: -0.00467609764791412,
      square: 13.9501115567911,
      lower: 0.546565603068679,
    },
  ])("agree with R on $what", ({ events, z, square, lower }) => {
    expectAgreement(laplaceTest(events).statistic, z, { rel: 1e-11 });
    expectAgreement(powerLawTrendTest(events).statistic, square, { rel: 1e-12 });
    expectAgreement(powerLawTrendTest(events).lower, lower, { rel: 1e-10 });
    expectAgreement(powerLawTrendTest(events).p, 2 * Math.min(lower, 1 - lower), { rel: 1e-8 });
  });

  it("point the same way", () => {
    const late = eventsOf({ ages: [9, 9.3, 9.6, 9.8], end: 10 });
    const early = eventsOf({ ages: [0.1, 0.2, 0.4, 1], end: 10 });
    for (const test of [laplaceTest, powerLawTrendTest]) {
      expect(test(late)).toMatchObject({ direction: "deteriorating" });
      expect(test(early)).toMatchObject({ direction: "improving" });
      expect(test(late).p).toBeLessThan(0.05);
    }
  });

  it("has a small lower tail to full precision", () => {
    // R 4.2.2: t <- 999 + (0:19) * 1e-9; pchisq(2 * sum(log(1000 / t)), 40); with 0:1999 and 4000 degrees its log10 is -5134
    const near = (number: number) =>
      eventsOf({ ages: Array.from({ length: number }, (_, at) => 999 + at * 1e-9), end: 1000 });
    expectAgreement(powerLawTrendTest(near(20)).lower, 4.271139282e-53, { rel: 1e-8 });
    expect(powerLawTrendTest(near(2000)).p).toBe(0);
  });
});

describe("lewisRobinsonTest", () => {
  // R 4.2.2: per unit x <- diff(c(0, ages)), sum((n + 1 - 1:n) * (x - mean(x))) and var(x) * n * (n^2 - 1) / 12, summed over units;
  // textbook: the Laplace z above over sd(x) / mean(x)
  it.each([
    { what: "ten repairs", events: tenRepairs(), z: -1.64927979255482, textbook: -1.20113987516933 },
    { what: "ten repairs up to the last", events: tenRepairs(1478), z: -1.64927979255482, textbook: -1.72977923953973 },
    { what: "three systems", events: crowSystems(), z: -3.06720007270368, textbook: null },
  ])("agrees with R on $what", ({ events, z, textbook }) => {
    const found = lewisRobinsonTest(events);
    expectAgreement(found.statistic, z, { rel: 1e-11 });
    if (textbook === null) expect(found.laplaceOverVariation).toBeNull();
    else expectAgreement(found.laplaceOverVariation, textbook, { rel: 1e-11 });
  });

  it("is the textbook form times sqrt(n / (n + 1)) where observation ended with the last event", () => {
    const found = lewisRobinsonTest(tenRepairs(1478));
    expectAgreement(found.statistic, found.laplaceOverVariation! * Math.sqrt(10 / 11), { rel: 1e-12 });
  });

  it("has mean 0 and variance 1 over all orders of the gaps", () => {
    const values = ordersOf([3, 10, 11, 40]).map((gaps) => lewisRobinsonTest(withGaps(gaps)).statistic!);
    expectAgreement(sum(values), 0, { abs: 1e-12 });
    expectAgreement(sum(values.map((z) => z * z)), 24, { rel: 1e-12 });
  });
});

describe("trend tests of units without trend", () => {
  // 400 fleets of 30 units watched to time 4: a share of 5 % has a binomial standard deviation of 1.1 %
  const size = (gap: (stream: Stream) => number, test: (events: RecurrentEvents) => { p: number | null }) => {
    const fleets = Array.from({ length: 400 }, (_, fleet) => {
      const stream = streamOf(7, fleet);
      return eventsOf(...Array.from({ length: 30 }, () => ({ ages: series(() => gap(stream), 4), end: 4 })));
    });
    return fleets.filter((fleet) => test(fleet).p! < 0.05).length / fleets.length;
  };
  const exponential = (stream: Stream) => -Math.log1p(-stream.uniform());
  // Mean near 1: gamma(1 + 1 / 2) = 0.886
  const steady = (stream: Stream) => Math.sqrt(exponential(stream)) / 0.886;

  it.each([
    ["Laplace", laplaceTest],
    ["power-law", powerLawTrendTest],
    ["Lewis-Robinson", lewisRobinsonTest],
    ["reverse-arrangement", reverseArrangementTest],
  ] as const)("the %s test finds one in about 5 % at a constant rate", (_, test) => {
    const found = size(exponential, test);
    expect(found).toBeGreaterThan(0.02);
    expect(found).toBeLessThan(0.09);
  });

  it("tests of the order of gaps do so too for gaps that are steadier (Weibull, shape 2), where the others do not", () => {
    for (const test of [lewisRobinsonTest, reverseArrangementTest]) {
      const found = size(steady, test);
      expect(found).toBeGreaterThan(0.02);
      expect(found).toBeLessThan(0.09);
    }
    expect(size(steady, powerLawTrendTest)).toBeGreaterThan(0.5);
  });
});

const CASES = [
  { what: "no units", events: eventsOf(), poisson: "there are no events" },
  { what: "no events", events: eventsOf({ ages: [], end: 5 }, { ages: [], end: 6 }), poisson: "there are no events" },
  { what: "one event", events: eventsOf({ ages: [2], end: 5 }), poisson: "one event alone shows no trend" },
  {
    what: "two events, the second at the end",
    events: eventsOf({ ages: [2, 5], end: 5 }),
    poisson: "fewer than two events lie before the end of their units' observation",
  },
  {
    what: "all at one age",
    events: eventsOf({ ages: [3, 3, 3], end: 5 }, { ages: [3], end: 9 }),
    poisson: "all events lie at one age",
  },
  { what: "all at the end", events: eventsOf({ ages: [5, 5, 5], end: 5 }), poisson: "all events lie at one age" },
  {
    what: "a unit never watched",
    events: eventsOf({ ages: [0, 0, 0], end: 0 }),
    poisson: "fewer than two events lie before the end of their units' observation",
  },
] as const;

describe("trendTests", () => {
  it.each(CASES)("says why there is no test at a constant rate: $what", ({ events, poisson }) => {
    const { laplace, powerLaw, lewisRobinson, reverseArrangements } = trendTests(events);
    for (const found of [laplace, powerLaw]) {
      expect(found).toMatchObject({ statistic: null, p: null, direction: null, reason: poisson });
    }
    for (const { statistic, p, reason } of [lewisRobinson, reverseArrangements]) {
      expect(statistic === null ? reason : Number.isFinite(statistic)).toBeTruthy();
      expect(p === null || (p >= 0 && p <= 1)).toBe(true);
    }
  });

  it("says why gaps show no order", () => {
    const none = "no unit has two whole times between events";
    const equal = "the times between events of each unit are all equal";
    const single = trendTests(eventsOf({ ages: [4], end: 9 }, { ages: [6, 8], entry: 5, end: 9 }));
    expect(single.lewisRobinson).toMatchObject({ p: null, reason: none });
    expect(single.reverseArrangements).toMatchObject({ p: null, reason: none });
    const even = trendTests(eventsOf({ ages: [0.1, 0.2, 0.3, 0.4], end: 0.5 }));
    expect(even.lewisRobinson).toMatchObject({ p: null, reason: equal });
    expect(even.reverseArrangements).toMatchObject({ p: null, reason: equal });
  });

  it("has no power-law test with an event at age 0", () => {
    const { laplace, powerLaw } = trendTests(eventsOf({ ages: [0, 4, 5], end: 9 }));
    expect(powerLaw).toMatchObject({ p: null, lower: null, reason: "an event lies at age 0, which has no logarithm" });
    expect(laplace.p).not.toBeNull();
  });

  it.each([1e9, 1e-9, 1e150])("gives the same in units %d times as small", (factor) => {
    const late = crowSystems([10, 200], [20, 180], [50, 150]);
    for (const events of [tenRepairs(), valveSeats(), late]) {
      const [found, other] = [trendTests(events), trendTests(inUnits(events, factor))];
      for (const name of ["laplace", "powerLaw", "lewisRobinson", "reverseArrangements"] as const) {
        expectAgreement(other[name].statistic, found[name].statistic!, { abs: 1e-9 }, name);
        expectAgreement(other[name].p, found[name].p!, { abs: 1e-9 }, name);
      }
    }
  });

  it("takes rows in any order and leaves out those marked as no events", () => {
    const events = valveSeats();
    const rows = Array.from(events.time.keys()).reverse();
    const shuffled = {
      ...events,
      unit: Int32Array.from([...rows, 0], (row) => events.unit[row]!),
      time: Float64Array.from([...rows, 0], (row) => events.time[row]!),
      event: Uint8Array.from([...rows.map(() => 1), 0]),
    };
    expect(trendTests(shuffled)).toEqual(trendTests(events));
  });

  it("is finite or says why, whatever the ages", () => {
    const unit = fc
      .record({
        entry: fc.constantFrom(0, 0, 3),
        length: fc.integer({ min: 0, max: 4 }),
        steps: fc.array(fc.integer({ min: 0, max: 4 }), { maxLength: 5 }),
      })
      .map(({ entry, length, steps }) => ({
        entry,
        end: entry + length,
        ages: steps.flatMap((step) => (step <= length && (step > 0 || entry === 0) ? [entry + step] : [])),
      }));
    fc.assert(
      fc.property(fc.array(unit, { maxLength: 4 }), (units) => {
        for (const found of Object.values(trendTests(eventsOf(...units)))) {
          expect(found.p === null).toBe(found.reason !== undefined);
          if (found.p === null) continue;
          expect(Number.isFinite(found.statistic)).toBe(true);
          expect(found.p >= 0 && found.p <= 1).toBe(true);
        }
      }),
      { seed: 11, numRuns: 500 },
    );
  });

  it("takes 100,000 events of one unit, and of 20,000, without going through all pairs", () => {
    const ages = Array.from({ length: 100_000 }, (_, at) => at + 0.5 + ((at * 7919) % 1000) / 2500);
    const one = eventsOf({ ages, end: 100_001 });
    const many = eventsOf(
      ...Array.from({ length: 20_000 }, (_, at) => ({ ages: ages.slice(at % 50, (at % 50) + 5), end: 60 })),
    );
    for (const events of [one, many]) {
      const before = performance.now();
      expect(trendTests(events).reverseArrangements.p).not.toBeNull();
      expect(performance.now() - before).toBeLessThan(5000);
    }
  });
});

describe("trendTestsByUnit", () => {
  it("is the test of each unit alone, in the order of their numbers", () => {
    const alone = CROW.map((ages) => trendTests(eventsOf({ ages, end: 200 })));
    expect(trendTestsByUnit(crowSystems())).toEqual(alone);
  });
});

function gapsOf(ages: readonly number[]): number[] {
  return ages.map((age, at) => age - (ages[at - 1] ?? 0));
}

/** Units with such gaps, each watched a little beyond its last event. */
function withGaps(...units: number[][]): RecurrentEvents {
  return eventsOf(
    ...units.map((gaps) => ({ ages: gaps.map((_, at) => sum(gaps.slice(0, at + 1))), end: sum(gaps) + 1 })),
  );
}

function ordersOf(values: number[]): number[][] {
  if (values.length < 2) return [values];
  return values.flatMap((first, at) =>
    ordersOf(values.filter((_, other) => other !== at)).map((rest) => [first, ...rest]),
  );
}

function series(gap: () => number, end: number): number[] {
  const ages: number[] = [];
  for (let age = gap(); age < end; age += gap()) ages.push(age);
  return ages;
}

function sum(values: number[]): number {
  return values.reduce((all, value) => all + value, 0);
}
