import { describe, expect, it } from "vitest";
import { reliabilityFactor } from "../../../src/stats/rating/reliability-factor.ts";
import { reliabilityFormula } from "../../../src/stats/rating/reliability-formula.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

const { rows, tolerance } = new PublishedCase("13_iso281").table("reliability_factor_a1");
const tables = [
  ["ISO 281:2007", "2007"],
  ["ISO 281:1990", "1990"],
] as const;

describe.each(tables)("reliability factors of %s (case 13_iso281)", (table, year) => {
  it("gives what is printed, and the formula's value where nothing is", () => {
    for (const row of rows) {
      const printed = row[`a1_${year}_printed`] ?? null;
      const found = reliabilityFactor(row["reliability_percent"]! / 100, table);
      expect(found).toMatchObject({ table, printed: printed !== null });
      expectAgreement(found.factor, printed ?? row[`a1_${year}_formula`]!, tolerance);
    }
  });

  it("has a formula that R agrees with, within 0.005 of print (W-BR3)", () => {
    for (const row of rows) {
      const found = reliabilityFormula(row["reliability_percent"]! / 100, table);
      expectAgreement(found, row[`a1_${year}_formula`]!, tolerance);
      const printed = row[`a1_${year}_printed`];
      if (printed !== null && printed !== undefined) expectAgreement(found, printed, { abs: 0.005 });
    }
  });

  it("takes a reliability that rounding has touched as the printed one", () => {
    expect(reliabilityFactor(1 - 0.1 / 2, table).printed).toBe(true);
    expect(reliabilityFactor(0.955, table).printed).toBe(false);
  });

  it("refuses reliabilities that the tables don't reach", () => {
    for (const reliability of [0.5, 0.9996, 95, Number.NaN])
      expect(() => reliabilityFactor(reliability, table)).toThrow("must be 0.9 to 0.9995");
  });
});
