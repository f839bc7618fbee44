import { describe, expect, it } from "vitest";
import type { BearingFacts } from "../../src/questions/rating-facts.ts";
import { ratedLife } from "../../src/questions/rating-life.ts";

type Values = { [Key in keyof BearingFacts]?: NonNullable<BearingFacts[Key]>["value"] };

const facts = (values: Values) =>
  Object.fromEntries(
    Object.entries(values).map(([key, value]) => [key, { value, source: "data sheet" }]),
  ) as BearingFacts;

const at = (speed: number | null, pieces = 1) => ({
  slot: "drive_end_bearings",
  pieces,
  speed: speed === null ? null : { value: speed, source: "median of 9 lives" },
});

const PLAIN: Values = { kind: "radial ball", dynamic_rating: 60, equivalent_load: 6 };
const ANGULAR: Values = {
  kind: "angular-contact ball",
  dynamic_rating: 88,
  contact_angle: 40,
  radial_load: 4,
  axial_load: 7,
};

describe("ratedLife(): the basic rating life", () => {
  it.each([
    {
      // W-BR1: Jindal, Machine Design, example 18-2: 57.3 million revolutions, (5590 / 1450)^3; over 60 * 1000 r/min * 1e-6
      name: "a textbook's radial ball bearing",
      values: {
        kind: "radial ball",
        dynamic_rating: 5.59,
        radial_load: 1.25,
        axial_load: 0.625,
        x: 0.56,
        y: 1.2,
      } as Values,
      place: at(1000),
      hours: 57.3 / 0.06,
      within: 0.05 / 0.06,
    },
    {
      // by hand: (60 / 6)^3 = 1000 million revolutions; 1e9 / (60 * 1000)
      name: "an equivalent load",
      values: PLAIN,
      place: at(1000),
      hours: 16666.667,
      within: 0.001,
    },
    {
      // by hand: 10^(10/3) = 2154.4347 million revolutions; / 0.06
      name: "rollers",
      values: { ...PLAIN, kind: "radial roller" } as Values,
      place: at(1000),
      hours: 35907.245,
      within: 0.001,
    },
    {
      // by hand: the speed given counts, not that of the cards: half of the first
      name: "a speed that is given",
      values: { ...PLAIN, speed: 2000 },
      place: at(1000),
      hours: 8333.333,
      within: 0.001,
    },
    {
      // by hand: 10^3 * (2^0.7)^3 = 10^3 * 2^2.1 = 4287.0939; / 0.06
      name: "a pair of balls",
      values: PLAIN,
      place: at(1000, 2),
      hours: 71451.564,
      within: 0.01,
    },
    {
      // by hand: 10^(10/3) * 2^(7/9 * 10/3) = 2154.4347 * 2^2.592593 = 2154.4347 * 6.0318 = 12995.1
      name: "a pair of rollers",
      values: { ...PLAIN, kind: "radial roller" } as Values,
      place: at(1000, 2),
      hours: 12995.1 / 0.06,
      within: 10,
    },
    {
      // by hand: Fa / Fr = 1.75 > 1.14: P = 0.57 * 4 + 0.93 * 7 = 8.79; (88 * 2^0.7 / 8.79)^3 = (10.011377)^3 * 4.2870939 = 4301.75; / 0.105
      name: "an angular-contact pair beyond e",
      values: ANGULAR,
      place: at(1750, 2),
      hours: 4301.75 / 0.105,
      within: 5,
    },
    {
      // by hand: Fa / Fr = 0.5 < 1.14: P = 8 + 0.55 * 4 = 10.2; (88 / 10.2)^3 * 4.2870939 = 642.177 * 4.2870939 = 2753.08; / 0.105
      name: "an angular-contact pair within e",
      values: { ...ANGULAR, radial_load: 8, axial_load: 4 },
      place: at(1750, 2),
      hours: 2753.08 / 0.105,
      within: 5,
    },
    {
      // by hand: alone, beyond e: P = 0.35 * 4 + 0.57 * 7 = 5.39; (88 / 5.39)^3 = 4351.85; / 0.105
      name: "an angular-contact bearing alone",
      values: ANGULAR,
      place: at(1750, 1),
      hours: 4351.85 / 0.105,
      within: 5,
    },
    {
      // by hand: 15 degrees, f0 Fa / C0 = 14.3 * 5 / 50 = 1.43: e = 0.47, pair beyond: P = 0.72 * 4 + 1.93 * 5 = 12.53; (60 / 12.53)^3 * 4.2870939 = 470.715; / 0.06
      name: "15 degrees",
      values: {
        ...ANGULAR,
        contact_angle: 15,
        f0: 14.3,
        static_rating: 50,
        axial_load: 5,
        dynamic_rating: 60,
      } as Values,
      place: at(1000, 2),
      hours: 470.715 / 0.06,
      within: 5,
    },
    {
      // by hand: P = Fa = 6
      name: "a thrust bearing",
      values: { kind: "thrust ball", dynamic_rating: 60, radial_load: 0, axial_load: 6 } as Values,
      place: at(1000),
      hours: 16666.667,
      within: 0.001,
    },
  ])("is that of $name", ({ values, place, hours, within }) => {
    const { basic, modified } = ratedLife(facts(values), place);
    expect(Math.abs((basic ?? 0) - hours)).toBeLessThanOrEqual(within);
    expect(modified).toBeNull();
  });

  it("names where each number comes from", () => {
    const { basis } = ratedLife(facts(PLAIN), at(1480, 2));
    expect(basis).toEqual([
      { name: "Kind", value: "radial ball", source: "data sheet" },
      { name: "Dynamic load rating C of one", value: "60 kN", source: "data sheet" },
      // by hand: 60 * 2^0.7 = 60 * 1.6245 = 97.47
      {
        name: "Dynamic load rating C of the pair",
        value: "97.5 kN, 2^0.7 times one",
        source: "ISO 281:2007; the slot holds 2",
      },
      { name: "Equivalent load P", value: "6 kN", source: "data sheet" },
      { name: "Speed n", value: "1,480 r/min", source: "median of 9 lives" },
      // by hand: 4287.0939 million revolutions / (60 * 1480) = 48,278 h
      { name: "Basic rating life L10h", value: "48,300 h", source: "ISO 281:2007: 1,000,000 / (60 n) (C / P)^3" },
    ]);
  });

  it.each([
    {
      lacks: "the rating",
      values: { kind: "radial ball" } as Values,
      says: "no dynamic load rating is known: put dynamic_rating under bearings, drive_end_bearings in framelife.yaml",
    },
    {
      lacks: "the part's record",
      values: { part: "QB-31" },
      says: 'or add an export of bearings that lists part "QB-31"',
    },
    { lacks: "the kind", values: { dynamic_rating: 60 }, says: "whether balls or rollers roll in it: put kind" },
    { lacks: "loads", values: { ...PLAIN, equivalent_load: undefined }, says: "no load is known: put equivalent_load" },
    {
      lacks: "the axial load",
      values: { ...ANGULAR, axial_load: undefined },
      says: "only the radial load is known: put axial_load (0 where there is none)",
    },
    {
      lacks: "the radial load",
      values: { ...ANGULAR, radial_load: undefined },
      says: "only the axial load is known: put radial_load",
    },
    {
      lacks: "any load above 0",
      values: { ...ANGULAR, radial_load: 0, axial_load: 0 },
      says: "the loads given come to 0",
    },
    { lacks: "a load that its factors count", values: { ...ANGULAR, x: 0, y: 0 }, says: "the loads given come to 0" },
    {
      lacks: "the angle",
      values: { ...ANGULAR, contact_angle: undefined },
      says: "the contact angle is not known: put contact_angle",
    },
    {
      lacks: "factors of its angle",
      values: { ...ANGULAR, contact_angle: 35 } as unknown as Values,
      says: "none are known for 35 degrees",
    },
    { lacks: "f0", values: { ...ANGULAR, contact_angle: 15 } as Values, says: "put f0 and static_rating, or x and y," },
    {
      lacks: "factors",
      values: { ...ANGULAR, kind: "radial ball" } as Values,
      says: "a radial ball bearing with an axial load: put x and y",
    },
    {
      lacks: "thrust factors",
      values: { ...ANGULAR, kind: "thrust roller" } as Values,
      says: "a thrust bearing with a radial load",
    },
    {
      lacks: "a load worth the name",
      values: { ...PLAIN, equivalent_load: 1e-9 },
      says: "next to nothing beside the dynamic load rating",
    },
  ])("says that it lacks $lacks", ({ values, says }) => {
    const known = Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined));
    const { basic, modified, reason } = ratedLife(facts(known as Values), at(1000));
    expect([basic, modified]).toEqual([null, null]);
    expect(reason).toContain(says);
  });

  it("says that no speed is known", () => {
    expect(ratedLife(facts(PLAIN), at(null)).reason).toMatch(/^no speed is known, .*: put speed under bearings/);
  });

  it.each([
    { pieces: 3, kind: "radial ball", says: "the slot holds 3 pieces, and only pairs are rated as one here" },
    { pieces: 2, kind: "thrust ball", says: "thrust bearings are not rated as a pair: put pieces: 1" },
  ] as const)("rates no $pieces $kind bearings as one, unless their figures are of all", ({ pieces, kind, says }) => {
    expect(ratedLife(facts({ ...PLAIN, kind }), at(1000, pieces)).reason).toContain(says);
    expect(ratedLife(facts({ ...PLAIN, kind, pieces: 1 }), at(1000, pieces)).basic).toBeCloseTo(16666.667, 2); // by hand, as above
  });

  it("warns of a load beyond half the rating", () => {
    expect(ratedLife(facts({ ...PLAIN, equivalent_load: 31 }), at(1000)).warnings).toEqual([
      "the load is 0.517 of the dynamic load rating: rating life holds up to 0.5", // by hand: 31 / 60
    ]);
    expect(ratedLife(facts({ ...PLAIN, equivalent_load: 30 }), at(1000)).warnings).toEqual([]);
  });
});

describe("ratedLife(): the modified rating life", () => {
  // nu1 at 1780 r/min and 60 mm is 13.77 (W-BR4): a viscosity of 13.7698 gives a ratio of 1. Cu = 1.2, eC = 0.5, P = 6: eC Cu / P = 0.1
  const OILED: Values = { ...PLAIN, viscosity: 13.7698, mean_diameter: 60, contamination: 0.5, fatigue_limit: 1.2 };

  it("is aISO times the basic one", () => {
    const { basic, modified } = ratedLife(facts(OILED), at(1780));
    expect(Math.abs((modified ?? 0) / (basic ?? 1) - 2.431)).toBeLessThanOrEqual(1e-3); // W-BR5: ratio 1, eC Cu / P = 0.1
  });

  it("counts the fatigue load limit of a pair twice", () => {
    const { basic, modified, basis } = ratedLife(facts({ ...OILED, fatigue_limit: 0.6 }), at(1780, 2));
    expect(Math.abs((modified ?? 0) / (basic ?? 1) - 2.431)).toBeLessThanOrEqual(1e-3); // by hand: 2 * 0.6 = 1.2, as before
    expect(basis).toContainEqual(
      expect.objectContaining({ name: "Fatigue load limit Cu of the pair", value: "1.2 kN" }),
    );
  });

  it("says of a cleanliness class that its coefficients are not checked", () => {
    const { basis } = ratedLife(facts({ ...OILED, contamination: { grease: "normal" } }), at(1780));
    const row = basis.find(({ name }) => name === "Contamination factor eC");
    // by hand: 0.0432 * 1^0.68 * 60^0.55 = 0.0432 * 9.5057 = 0.41065; * (1 - 1.141 / 60^(1/3)) = * 0.70855 = 0.29097
    expect(row?.value).toBe("0.291, for grease, normal cleanliness");
    expect(row?.source).toContain("not checked against the standard's text");
  });

  it.each([
    { contamination: { oil_bath: "-/21/18" }, words: "oil, bath or filtered off line, -/21/18" },
    { contamination: { oil_filtered: "-/13/10" }, words: "oil, filtered in line, -/13/10" },
  ] as const)("reads $contamination", ({ contamination, words }) => {
    const { basis } = ratedLife(facts({ ...OILED, contamination }), at(1780));
    expect(basis.find(({ name }) => name === "Contamination factor eC")?.value).toContain(words);
  });

  it.each([
    {
      values: { ...PLAIN, contamination: 0.5, fatigue_limit: 1.2, mean_diameter: 60 },
      says: "viscosity is not known: put viscosity under",
    },
    {
      values: { ...PLAIN, viscosity: 20 },
      says: "contamination, mean diameter and fatigue limit are not known: put contamination, mean_diameter and fatigue_limit under",
    },
    { values: { ...OILED, viscosity: 1 }, says: "below 0.1, where surfaces touch" }, // by hand: 1 / 13.77 = 0.073
  ])("is not given where $says", ({ values, says }) => {
    const { basic, modified, warnings } = ratedLife(facts(values), at(1780));
    expect(basic).not.toBeNull();
    expect(modified).toBeNull();
    expect(warnings.join()).toContain(`no modified catalogue life: `);
    expect(warnings.join()).toContain(says);
  });

  it("is not asked for by a fatigue load limit alone, which every catalogue has", () => {
    expect(ratedLife(facts({ ...PLAIN, fatigue_limit: 1.2, mean_diameter: 60 }), at(1780)).warnings).toEqual([]);
  });

  it("stays that of 90 %; what more reach stands beside", () => {
    const { basic, basis } = ratedLife(facts({ ...PLAIN, reliability: 0.95 }), at(1000));
    expect(basic).toBeCloseTo(16666.667, 2);
    // a1 = 0.64 in ISO 281:2007 (W-BR3); by hand: 0.64 * 16,666.7 = 10,666.7
    expect(basis.at(-1)).toEqual({
      name: "Basic life that 95 % reach",
      value: "10,700 h, a1 = 0.64",
      source: "ISO 281:2007; reliability: data sheet",
    });
  });
});
