import { describe, expect, it } from "vitest";
import { poissonUpperP } from "../../../src/stats/offenders/poisson-upper.ts";
import { renewalCounts } from "../../../src/stats/offenders/renewal-counts.ts";
import { fitRenewalLaw } from "../../../src/stats/offenders/renewal-law.ts";
import { renewalUpperP } from "../../../src/stats/offenders/renewal-upper.ts";
import { streamOf } from "../../../src/stats/random/stream.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";
import { drawnStretches, gapOf } from "./drawn-stretches.ts";

const renewals = new PublishedCase("12b_renewal_function");

/** A stretch of one entity each, that saw nothing; or as many events as are asked for, at ages that don't matter. */
function watched(rows: { age: number; length: number; events: number }[]) {
  const stretches = rows.flatMap(({ age, length, events }, entity) =>
    Array.from({ length: events + 1 }, (_, at) => ({
      entity,
      entry: at === 0 ? age : 0,
      stop: (at === 0 ? age : 0) + length / (events + 1),
      event: at < events ? 1 : 0,
    })),
  );
  return {
    entity: Int32Array.from(stretches, ({ entity }) => entity),
    entry: Float64Array.from(stretches, ({ entry }) => entry),
    stop: Float64Array.from(stretches, ({ stop }) => stop),
    event: Uint8Array.from(stretches, ({ event }) => event),
  };
}

describe("renewalCounts", () => {
  it("adds up to the published renewal function", () => {
    const { rows } = renewals.table("renewal_function");
    expect(rows.length).toBe(25);
    for (const { shape, t, M } of rows) {
      const chances = renewalCounts(shape ?? 0)(0, t ?? 0, 24);
      const mean = chances.reduce((sum, chance) => sum + chance, -1);
      expectAgreement(mean, M ?? Number.NaN, { rel: 5e-6 }, `shape ${shape}, t ${t}`);
    }
  });

  it("adds up to the published number of events of a window that starts at an age", () => {
    const { rows } = renewals.table("aged_first_life");
    expect(rows.length).toBe(24);
    for (const { shape, age, horizon, M } of rows) {
      const chances = renewalCounts(shape ?? 0)(age ?? 0, horizon ?? 0, 24);
      const mean = chances.reduce((sum, chance) => sum + chance, -1);
      expectAgreement(mean, M ?? Number.NaN, { rel: 1e-3 }, `shape ${shape}, age ${age}, horizon ${horizon}`);
    }
  });
});

describe("renewalUpperP", () => {
  it("gives Poisson's chances where gaps are exponential, whatever the age, and far out in the tail", () => {
    const rows = [0.5, 3, 10, 37].flatMap((length) =>
      [0, 0.3, 5].flatMap((age) => [0, 1, 3, 12, 30].map((events) => ({ age, length, events }))),
    );
    const counts = {
      events: Float64Array.from(rows, ({ events }) => events),
      exposure: Float64Array.from(rows, ({ length }) => length * 1.5),
    };
    const law = { shape: 1, scale: Float64Array.of(1) };
    for (const midP of [false, true]) {
      const expected = poissonUpperP(counts, { midP });
      const found = renewalUpperP(watched(rows), rows.length, law, { rateRatio: 1.5, midP });
      for (const [entity, chance] of expected.entries()) {
        if (chance > 1e-12) expectAgreement(found[entity], chance, { rel: 0.002 }, JSON.stringify(rows[entity]));
      }
    }
  });

  it.each([0.7, 2])("gives the share of drawn counts as large, over two windows, at shape %f", (shape) => {
    // 40,000 drawn counts of a window of 2.5 from age 0 and one of 1.5 from age 0.6, seed 21: standard error 0.25 % at most
    const random = streamOf(21, 0);
    const numbers = Array.from({ length: 40_000 }, () => {
      let events = 0;
      const rest = (0.6 ** shape - Math.log1p(-random.uniform())) ** (1 / shape) - 0.6;
      for (let at = rest; at <= 1.5; at += gapOf(random, shape)) events++;
      for (let at = gapOf(random, shape); at <= 2.5; at += gapOf(random, shape)) events++;
      return events;
    });
    for (const count of [1, 3, 5, 7]) {
      const stretches = watched([
        { age: 0, length: 2.5, events: count - 1 },
        { age: 0.6, length: 1.5, events: 1 },
      ]);
      const [found] = renewalUpperP({ ...stretches, entity: stretches.entity.fill(0) }, 1, {
        shape,
        scale: Float64Array.of(1),
      });
      expectAgreement(found, numbers.filter((number) => number >= count).length / 40_000, { abs: 0.01 });
    }
  });

  it("goes over into the normal chance of a large count without a jump", () => {
    const law = { shape: 1.5, scale: Float64Array.of(1) };
    const chanceOf = (length: number) => renewalUpperP(watched([{ age: 0, length, events: 190 }]), 1, law)[0]!;
    // 200 events are expected of a length of 180.5: exact below, normal above
    const [below, above] = [chanceOf(180.5), chanceOf(180.6)];
    expectAgreement(above, below, { rel: 0.02 });
  });

  it("is sure of no event where nothing was watched, and refuses a stratum without a law", () => {
    const law = { shape: 2, scale: Float64Array.of(1) };
    expect([...renewalUpperP(watched([]), 2, law)]).toEqual([1, 1]);
    expect([...renewalUpperP(watched([{ age: 3, length: 0, events: 0 }]), 1, law, { midP: true })]).toEqual([0.5]);
    const stretches = { ...watched([{ age: 0, length: 1, events: 0 }]), stratum: Int32Array.of(3) };
    expect(() => renewalUpperP(stretches, 1, law)).toThrow("stratum 3 has no law");
  });
});

describe("fitRenewalLaw", () => {
  it.each([0.7, 2])("finds gaps of shape %f to be no Poisson clock, and their scales by stratum", (shape) => {
    const stretches = drawnStretches({ seed: 31, units: 400, mean: 4, shape, strata: 2 });
    const law = fitRenewalLaw(stretches, { level: 0.95 });
    if (!law.renewal) throw new Error(law.reason);
    // the truth drawn from: gaps of mean 1 in the first stratum, and 2 in the second; 1,600 and 800 events
    expectAgreement(law.shape, shape, { rel: 0.06 });
    expectAgreement(law.scale[1]! / law.scale[0]!, 2, { rel: 0.15 });
    expect(law.shapeLow).toBeLessThan(law.shape);
    expect(law.shapeHigh).toBeGreaterThan(law.shape);
  });

  it("takes exponential gaps for a Poisson clock, and says why where there is nothing to fit", () => {
    const poisson = fitRenewalLaw(drawnStretches({ seed: 32, units: 200, mean: 4, shape: 1 }), { level: 0.95 });
    expect(poisson).toMatchObject({ renewal: false, reason: "the shape of the gaps is not credibly other than 1" });
    expect(fitRenewalLaw(watched([{ age: 0, length: 5, events: 0 }]), { level: 0.95 })).toMatchObject({
      renewal: false,
      shape: null,
    });
    expect(fitRenewalLaw(watched([]), { level: 0.95 })).toMatchObject({ renewal: false, shape: null });
  });
});
