import { describe, expect, it } from "vitest";
import {
  countQuantile,
  countsInLots,
  poissonCounts,
  pooledStock,
  readyUnitsNeeded,
  stockCurve,
  stockFigures,
} from "../../../src/stats/index.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

const published = new PublishedCase("12a_poisson_stock");

describe("countQuantile and stockFigures", () => {
  it("give the published stocks, their service, shortage and fill rate", () => {
    const { rows, tolerance } = published.table("stock");
    expect(rows.length).toBe(18);
    for (const row of rows) {
      const demand = poissonCounts(row["mean_demand"]!);
      const stock = countQuantile(demand, row["service"]!);
      expect(stock).toBe(row["stock"]);
      const figures = stockFigures(demand, stock);
      expectAgreement(figures.noShortage, row["achieved"]!, tolerance);
      expectAgreement(figures.ready, row["one_less"]!, tolerance);
      expectAgreement(figures.expectedShort, row["expected_short"]!, tolerance);
      expectAgreement(figures.fillRate, row["fill_rate"]!, tolerance);
    }
  });

  it("keep three figures apart that the same stock of three has (lecture slides on order-up-to stock, mean 1.25)", () => {
    const shortages = [1.25, 0.5365, 0.18114, 0.04961, 0.01134];
    const curve = stockCurve(poissonCounts(1.25));
    for (const [stock, short] of shortages.entries()) expectAgreement(curve.expectedShort[stock], short, { abs: 1e-5 });
    expectAgreement(curve.noShortage[3], 0.961731, { abs: 1e-6 });
    expectAgreement(curve.ready[3], 0.868468, { abs: 1e-6 });
    // by hand: 1 - 0.04961 / 1.25
    expectAgreement(curve.fillRate[3], 0.960312, { abs: 1e-5 });
  });

  it("buy 121 for a year at two a week and 5 % (University of Southampton exercise sheet)", () => {
    const demand = poissonCounts(104);
    expect(countQuantile(demand, 0.95)).toBe(121);
    // R: ppois(c(121, 120), 104, lower = FALSE): 0.0458, 0.0555
    const { risk } = stockCurve(demand);
    expectAgreement(risk[121], 0.0458, { abs: 5e-5 });
    expectAgreement(risk[120], 0.0555, { abs: 5e-5 });
  });

  it.each([
    // 45 drives, 90 days, 95 %: exact Poisson by R's qpois; the source's normal rule buys 2 for the last
    { mean: 0.972, stock: 3 },
    { mean: 0.486, stock: 2 },
    { mean: 0.324, stock: 1 },
  ])("hold $stock against a demand of $mean, by the exact distribution", ({ mean, stock }) => {
    expect(countQuantile(poissonCounts(mean), 0.95)).toBe(stock);
  });

  it("hold whole pairs against a part used in twos", () => {
    const pairs = countsInLots(poissonCounts(1.25), 2);
    // by hand: P(N <= 1) = 0.644636; a pair is there when asked for with P(N <= (s - 2) / 2)
    expectAgreement(stockFigures(pairs, 3).noShortage, 0.644636, { abs: 1e-6 });
    expectAgreement(stockFigures(pairs, 6, 2).ready, 0.868468, { abs: 1e-6 });
    expectAgreement(stockFigures(pairs, 3, 2).ready, 0.286505, { abs: 1e-6 });
    expect(countQuantile(pairs, 0.9)).toBe(6);
  });

  it("keep the risk's precision far out, and hold beyond the largest demand", () => {
    // Rscript -e 'print(ppois(12, 0.5, lower.tail = FALSE), digits = 10)'
    expectAgreement(stockFigures(poissonCounts(0.5), 12).risk, 1.232927163e-14, { rel: 0.01 });
    expect(stockFigures(poissonCounts(0.5), 5000)).toMatchObject({
      noShortage: 1,
      risk: 0,
      expectedShort: 0,
      fillRate: 1,
    });
    expect(stockFigures(poissonCounts(0), 0)).toEqual({
      noShortage: 1,
      risk: 0,
      expectedShort: 0,
      fillRate: 1,
      ready: 0,
    });
    expect(stockCurve(poissonCounts(2), 40).ready.length).toBe(41);
  });

  it("are chances whatever rounding makes of their sums: nine ninths come to more than 1", () => {
    const { risk, noShortage } = stockCurve(Float64Array.of(0, ...new Array<number>(9).fill(1 / 9)));
    expect(risk[0]).toBe(1);
    expect(noShortage[9]).toBe(1);
  });

  it("refuse what is no stock, service or demand", () => {
    expect(() => stockFigures(poissonCounts(1), -1)).toThrow(RangeError);
    expect(() => stockFigures(poissonCounts(1), 1, 0)).toThrow(RangeError);
    expect(() => stockCurve(Float64Array.of(0.2))).toThrow("add up to 0.2");
    for (const p of [0, 1, Number.NaN]) expect(() => countQuantile(poissonCounts(1), p)).toThrow(RangeError);
  });
});

describe("readyUnitsNeeded", () => {
  it("is the Poisson quantile of rate times turnaround", () => {
    expect(readyUnitsNeeded({ rate: 0.5, turnaround: 2.5, service: 0.95 })).toBe(3);
    expect(readyUnitsNeeded({ rate: 0, turnaround: 2.5, service: 0.95 })).toBe(0);
    expect(() => readyUnitsNeeded({ rate: -1, turnaround: 2, service: 0.9 })).toThrow(RangeError);
  });
});

describe("pooledStock", () => {
  it("needs less from one shelf than apart", () => {
    const { rows } = published.table("stock");
    const stockAt = (mean: number) =>
      rows.find((row) => row["mean_demand"] === mean && row["service"] === 0.95)!["stock"]!;
    const sites = [2, 1, 1, 1].map((mean) => poissonCounts(mean));
    // 12a: 5 + 3 + 3 + 3 apart, 9 for a mean of 5
    expect(pooledStock(sites, 0.95)).toEqual({
      apart: [stockAt(2), stockAt(1), stockAt(1), stockAt(1)],
      apartTotal: 14,
      together: stockAt(5),
    });
    expect(pooledStock([], 0.95)).toEqual({ apart: [], apartTotal: 0, together: 0 });
  });
});
