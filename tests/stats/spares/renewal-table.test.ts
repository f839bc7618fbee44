import { describe, expect, it } from "vitest";
import {
  countMoments,
  firstSurvival,
  poissonCounts,
  type RenewalTable,
  renewalTable,
  type Survival,
} from "../../../src/stats/index.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

const published = new PublishedCase("12b_renewal_function");

function tableOf(later: Survival, longest: number): RenewalTable {
  const table = renewalTable(later, longest);
  if ("reason" in table) throw new Error(table.reason);
  return table;
}

/** Gamma lives of whole shape and rate 1. */
const erlang =
  (k: number): Survival =>
  (age) => {
    let [term, sum] = [1, 1];
    for (let j = 1; j < k; j++) {
      term *= age / j;
      sum += term;
    }
    return sum * Math.exp(-age);
  };

describe("renewalTable", () => {
  const { rows } = published.table("renewal_function");
  const { rows: aged } = published.table("aged_first_life");
  const { rows: gammas } = published.table("gamma_integer_shape");

  it("gives the published renewal function of Weibull lives to 1e-6, by mean and by counts", () => {
    expect(rows.length).toBe(25);
    for (const { shape, t, M } of rows) {
      const life = firstSurvival([{ shape: shape!, scale: 1000 }]);
      for (const longest of [1, 1.37, 5, 20 / t!]) {
        const table = tableOf(life, longest * 1000 * t!);
        expectAgreement(table.mean(life, 1000 * t!), M!, { rel: 1e-6 }, `shape ${shape}, t ${t}, up to ${longest}`);
      }
      const { mean } = countMoments(tableOf(life, 5000).counts(life, 1000 * t!));
      expectAgreement(mean, M!, { rel: 1e-6 }, `counts, shape ${shape}, t ${t}`);
    }
  });

  it("gives the published openings of a first life that has an age", () => {
    expect(aged.length).toBe(24);
    for (const { shape, age, horizon, M } of aged) {
      const table = tableOf(firstSurvival([{ shape: shape!, scale: 1 }]), 2.5);
      const first = firstSurvival([{ shape: shape!, scale: 1, age: age! }]);
      expectAgreement(table.mean(first, horizon!), M!, { rel: 1e-6 }, `shape ${shape}, age ${age}, ${horizon}`);
      expectAgreement(countMoments(table.counts(first, horizon!)).mean, M!, { rel: 1e-6 });
    }
  });

  it("gives the closed form of gamma lives, from any survival function", () => {
    expect(gammas.length).toBe(15);
    for (const { k, t, M } of gammas) {
      const table = tableOf(erlang(k!), 10);
      expectAgreement(table.mean(erlang(k!), t!), M!, { rel: 1e-6 }, `k ${k}, t ${t}`);
    }
    // t / 2 - 1 / 4 + exp(-2t) / 4 at 1 and 5
    expectAgreement(tableOf(erlang(2), 5).mean(erlang(2), 1), 0.283834, { abs: 1e-6 });
    expectAgreement(tableOf(erlang(2), 5).mean(erlang(2), 5), 2.250011, { abs: 3e-6 });
  });

  it("counts exponential lives as Poisson, whatever the age and however many", () => {
    for (const [age, horizon] of [
      [0, 0.3],
      [3, 2.2],
      [1, 11],
      [0, 15],
    ] as const) {
      const table = tableOf(firstSurvival([{ shape: 1, scale: 1 }]), 15);
      const found = table.counts(firstSurvival([{ shape: 1, scale: 1, age }]), horizon);
      for (const [k, chance] of poissonCounts(horizon).entries()) {
        expectAgreement(found[k] ?? 0, chance, { abs: 1e-7 }, `${horizon}: ${k}`);
      }
    }
  });

  it("counts gamma lives of shape 2 as every other Poisson event", () => {
    // P(N = k) = P(2k or 2k + 1 Poisson events)
    const found = tableOf(erlang(2), 6).counts(erlang(2), 6);
    const poisson = poissonCounts(6);
    for (let k = 0; k < 10; k++) expectAgreement(found[k], poisson[2 * k]! + poisson[2 * k + 1]!, { abs: 1e-8 });
  });

  it("opens a frame of three like slots 3^(1 / shape) times as often as one slot alone, in the long run", () => {
    for (const [shape, ratio] of [
      [1, 3],
      [1.5, 2.0801],
      [2.5, 1.5518],
    ] as const) {
      // by hand: the first of three Weibull lives is Weibull with the scale over 3^(1 / shape); the difference over a long time has no constant
      const openings = (slots: number, horizon: number) => {
        const life = firstSurvival(Array.from({ length: slots }, () => ({ shape, scale: 1 })));
        return tableOf(life, 12).mean(life, horizon);
      };
      expectAgreement((openings(3, 12) - openings(3, 8)) / (openings(1, 12) - openings(1, 8)), ratio, { rel: 1e-4 });
    }
  });

  it.each([
    // methods of expected use, common practice, no source: over two scales from new; rounded
    { shape: 1, ratio: 3 },
    { shape: 1.5, ratio: 2.25 },
    { shape: 2.5, ratio: 1.7 },
  ])("opens it some $ratio times as often over two lives from new, at shape $shape", ({ shape, ratio }) => {
    const openings = (slots: number) => {
      const life = firstSurvival(Array.from({ length: slots }, () => ({ shape, scale: 1 })));
      return tableOf(life, 2).mean(life, 2);
    };
    expectAgreement(openings(3) / openings(1), ratio, { abs: 0.03 });
  });

  it("multiplies the slots' conditional lives for the first one", () => {
    const slots = [
      { shape: 1.5, scale: 30_000, age: 12_000 },
      { shape: 2.5, scale: 20_000, age: 5000 },
      { shape: 1, scale: Number.POSITIVE_INFINITY },
    ];
    // by hand, published ages: 1 - 0.1276 (appendix check of running units), 12c shape 2.5, age 5000, horizon 4000: 1 - 0.0993072861297
    const twelve = new PublishedCase("12c_aged_item").table("conditional").rows;
    const row = twelve.find(({ shape, age, horizon }) => shape === 2.5 && age === 5000 && horizon === 4000)!;
    expectAgreement(firstSurvival(slots)(4000), (1 - 0.1276) * (1 - row["p_fail"]!), { abs: 5e-5 });
    expectAgreement(firstSurvival([])(4000), 1, {});
  });

  it("never opens what never fails, looks no time ahead, and says where there are too many lives", () => {
    const never = firstSurvival([]);
    const table = tableOf(never, 100);
    expect(table.mean(never, 100)).toBe(0);
    expect([...table.counts(never, 100)]).toEqual([1]);
    expect([...table.counts(never, 0)]).toEqual([1]);
    expect(table.mean(firstSurvival([{ shape: 1, scale: 1e-9 }]), 100)).toBeCloseTo(1, 12);
    expect(renewalTable(firstSurvival([{ shape: 1, scale: 1 }]), 1e6)).toEqual({
      reason: "more than 64 lives of half the units end within the horizon",
    });
    expect(renewalTable((age) => (age > 0 ? 0 : 1), 1)).toMatchObject({ reason: expect.any(String) });
  });

  it("refuses what is no survival function, and a horizon beyond the table", () => {
    const life = firstSurvival([{ shape: 2, scale: 1 }]);
    for (const wrong of [
      (age: number) => age,
      () => Number.NaN,
      (age: number) => 1 + age,
      (age: number) => (age > 0.1 && age < 0.2 ? Number.NaN : Math.exp(-age)),
      (age: number) => 1 - 2 * age,
    ]) {
      expect(() => tableOf(wrong, 1).mean(life, 1)).toThrow(RangeError);
      expect(() => tableOf(life, 1).mean(wrong, 1)).toThrow(RangeError);
    }
    expect(() => tableOf(life, 1).mean(life, 1.5)).toThrow("the table ends at 1");
    for (const longest of [0, -1, Number.POSITIVE_INFINITY])
      expect(() => renewalTable(life, longest)).toThrow(RangeError);
    for (const wrong of [
      { shape: 0, scale: 1 },
      { shape: 1, scale: -1 },
      { shape: 1, scale: 1, age: Number.NaN },
    ]) {
      expect(() => firstSurvival([wrong])).toThrow(RangeError);
    }
  });
});
