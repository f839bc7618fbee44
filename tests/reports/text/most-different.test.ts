import { describe, expect, it } from "vitest";
import { comparedAmong, mostDifferent } from "../../../reports/text/most-different.ts";
import { comparedOf, comparisonOf, fleetOf, lifeAnswerOf, lifeGroupOf, spreadLives } from "../fixtures.ts";

const lives = spreadLives(12, 1.5, 8000);
const fleet = (name: string, estimate: number | null, factor: number) => {
  const group = lifeGroupOf("shaft_sleeve", lives, { shape: 1.5, scale: 9000 });
  const l10 =
    estimate === null
      ? { estimate, low: null, high: null }
      : { estimate, low: estimate / factor, high: estimate * factor };
  return fleetOf({ name, life: lifeAnswerOf([{ ...group, l10 }]), timeline: [], dossiers: [] });
};

describe("mostDifferent()", () => {
  it("gives those furthest from the middle for how well they are known, in their given order", () => {
    // Off the middle of 1,000 by a factor of 2: known within 1.1 that is far, within 10 it is not; 4 within 2 lies between.
    const fleets = [
      fleet("middle", 1000, 1.1),
      fleet("vague", 2000, 10),
      fleet("unknown", null, 1),
      fleet("far", 4000, 2),
      fleet("sure", 500, 1.1),
      fleet("near", 990, 1.1),
    ];
    expect(mostDifferent(fleets, 2).map(({ name }) => name)).toEqual(["far", "sure"]);
    expect(mostDifferent(fleets, 99).map(({ name }) => name)).toEqual(["middle", "vague", "far", "sure", "near"]);
  });
});

describe("comparedAmong()", () => {
  it("leaves the ratios of some fleets alone, and the tests of all", () => {
    const ratio = { estimate: 2, low: 1, high: 4 };
    const compared = comparedOf({
      groups: ["a", "b", "c"].map((name) => ({ by: { fleet: name, slot: "shaft_sleeve" }, pooled: null })),
      comparisons: [comparisonOf({ ratios: [1, 2].map((group) => ({ group, of: 0, ratio })) })],
    });
    const [comparison] = comparedAmong(compared, [fleet("c", 1, 2)]).comparisons;
    expect(comparison!.ratios.map(({ group }) => group)).toEqual([2]);
    expect(comparison!.oneLaw).toEqual(compared.comparisons[0]!.oneLaw);
  });
});
