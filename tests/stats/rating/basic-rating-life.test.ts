import { describe, expect, it } from "vitest";
import { basicRatingLife } from "../../../src/stats/rating/basic-rating-life.ts";
import { hoursOfRevolutions } from "../../../src/stats/rating/hours-of-revolutions.ts";
import { neededLoadRating } from "../../../src/stats/rating/needed-load-rating.ts";
import { pairLoadRating } from "../../../src/stats/rating/pair-load-rating.ts";
import { reliabilityFactor } from "../../../src/stats/rating/reliability-factor.ts";
import type { RollingElement } from "../../../src/stats/rating/rolling-element.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

const iso = new PublishedCase("13_iso281");
const { rows, tolerance } = iso.table("life");
const [ratings, loads, speeds] = ["C_kN", "P_kN", "rpm"].map((column) => iso.numbers(column));
const bearings = iso.texts("type").map((type, at) => ({
  element: type as RollingElement,
  rating: ratings![at]!,
  load: loads![at]!,
  speed: speeds![at]!,
  expected: rows[at]!,
}));

describe("rating life of ISO 281 (closed forms in R, case 13_iso281)", () => {
  it.each(bearings)("$element of $rating kN under $load kN", ({ element, rating, load, speed, expected }) => {
    const hours = (ofRating: number) => hoursOfRevolutions(basicRatingLife(ofRating, load, element), speed);
    const pair = pairLoadRating(rating, element);
    const found: Record<string, number> = {
      L10_million_rev: basicRatingLife(rating, load, element),
      L10h: hours(rating),
      pair_factor: pair / rating,
      C_pair_kN: pair,
      L10h_pair_same_load: hours(pair),
      L5h_2007: hours(rating) * reliabilityFactor(0.95, "ISO 281:2007").factor,
      L1h_2007: hours(rating) * reliabilityFactor(0.99, "ISO 281:2007").factor,
      C_needed_for_25000h: neededLoadRating(load, speed, 25_000, element),
    };
    for (const [name, value] of Object.entries(found)) expectAgreement(value, expected[name]!, tolerance, name);
  });

  it("W-BR1: 5590 over 1450 and over 1590 (Jindal, Machine Design, example 18-2: 57.3 and 43.46 million)", () => {
    expectAgreement(basicRatingLife(5590, 1450, "ball"), 57.3, { abs: 0.05 });
    expectAgreement(basicRatingLife(5590, 1590, "ball"), 43.46, { abs: 0.05 });
  });

  it("refuses loads, ratings, speeds and lives that are none", () => {
    expect(() => basicRatingLife(10, 0, "ball")).toThrow("the equivalent load must be above 0 and finite, found 0");
    expect(() => basicRatingLife(Number.NaN, 1, "roller")).toThrow("the load rating must be above 0 and finite");
    expect(() => hoursOfRevolutions(1, -5)).toThrow("the speed must be above 0 and finite, found -5");
    expect(() => neededLoadRating(1, 1000, Number.POSITIVE_INFINITY, "ball")).toThrow("the life must be above 0");
    expect(() => pairLoadRating(0, "ball")).toThrow("Cannot rate a matched pair");
  });
});
