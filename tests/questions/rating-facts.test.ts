import { describe, expect, it } from "vitest";
import { bearingFacts } from "../../src/questions/rating-facts.ts";
import type { BearingRecord } from "../../src/questions/rating-records.ts";
import type { Bearing } from "../../src/workspace/bearing-data.ts";

const record: BearingRecord = {
  element: "ball",
  bore: 60,
  outside: 130,
  dynamicRating: 90,
  staticRating: 70,
  fatigueLimit: 3,
  angle: 40,
  source: "exports/bearings.csv, row 2",
};

const factsOf = (bearing: Bearing, fleet = "saltmere", listed: BearingRecord | undefined = record) =>
  bearingFacts(bearing, fleet, (part) => (part === "QB-31" ? listed : undefined));

describe("bearingFacts()", () => {
  it("takes from the part's record what is not said, and names file and row", () => {
    const facts = factsOf({ part: "QB-31", fatigue_limit: 2.5, source: "data sheet", fleets: {} });
    expect(facts.dynamic_rating).toEqual({ value: 90, source: "exports/bearings.csv, row 2" });
    expect(facts.fatigue_limit).toEqual({ value: 2.5, source: "data sheet" });
    expect(facts.mean_diameter?.value).toBe(95); // by hand: (60 + 130) / 2
    expect(facts.kind?.value).toBe("angular-contact ball");
  });

  it.each([
    { element: "ball", angle: null, kind: "radial ball" },
    { element: "ball", angle: 0, kind: "radial ball" },
    { element: "ball", angle: 25, kind: "angular-contact ball" },
    { element: "ball", angle: 60, kind: "thrust ball" },
    { element: "roller", angle: 14, kind: "radial roller" },
    { element: "roller", angle: 90, kind: "thrust roller" },
    { element: null, angle: 0, kind: undefined },
  ] as const)("counts a $element at $angle degrees as $kind (ISO 281: radial up to 45)", ({ element, angle, kind }) => {
    const facts = factsOf({ part: "QB-31", fleets: {} }, "saltmere", { ...record, element, angle });
    // A steepness without a word on what rolls is that of balls in angular contact.
    expect(facts.kind?.value).toBe(element === null ? "angular-contact ball" : kind);
  });

  it("leaves out what the record does not know", () => {
    const bare = { ...record, outside: null, dynamicRating: null };
    const facts = factsOf({ part: "QB-31", fleets: {} }, "saltmere", bare);
    expect(facts.dynamic_rating).toBeUndefined();
    expect(facts.mean_diameter).toBeUndefined();
  });

  const shared: Bearing = {
    part: "QB-31",
    x: 0.57,
    y: 0.93,
    radial_load: 4,
    axial_load: 7,
    viscosity: 20,
    source: "data sheet",
    fleets: {
      ostrel: { radial_load: 6, axial_load: 8, source: "ostrel's" },
      vennick: { dynamic_rating: 55, kind: "radial ball", source: "vennick's" },
      hired: { viscosity: 12, source: "hired's" },
    },
  };

  it("lets a fleet's own figure go before the slot's, with its own source", () => {
    expect(factsOf(shared, "hired").viscosity).toEqual({ value: 12, source: "hired's" });
    expect(factsOf(shared, "hired").radial_load).toEqual({ value: 4, source: "data sheet" });
    expect(factsOf(shared).viscosity).toEqual({ value: 20, source: "data sheet" });
  });

  it("mixes no loads of a fleet with factors of the slot", () => {
    const facts = factsOf(shared, "ostrel");
    expect([facts.radial_load?.value, facts.axial_load?.value, facts.x, facts.y]).toEqual([6, 8, undefined, undefined]);
    expect(facts.dynamic_rating?.value).toBe(90);
  });

  it("takes no catalogue figure of the slot's bearing for a fleet that has another", () => {
    const facts = factsOf(shared, "vennick");
    expect([facts.part, facts.fatigue_limit, facts.contact_angle, facts.x]).toEqual([
      undefined,
      undefined,
      undefined,
      undefined,
    ]);
    expect([facts.dynamic_rating?.value, facts.kind?.value, facts.radial_load?.value]).toEqual([55, "radial ball", 4]);
  });
});
