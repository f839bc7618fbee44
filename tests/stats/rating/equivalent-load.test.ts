import { describe, expect, it } from "vitest";
import { angularContactFactors } from "../../../src/stats/rating/angular-contact-factors.ts";
import { equivalentLoad } from "../../../src/stats/rating/equivalent-load.ts";
import { expectAgreement } from "../../agree.ts";
import { PublishedCase } from "../../published-case.ts";

describe("equivalentLoad", () => {
  it("weighs both loads (closed form in R, case 13_iso281)", () => {
    const { value, tolerance } = new PublishedCase("13_iso281").value("equivalent_load_example");
    expectAgreement(equivalentLoad({ radial: 4, axial: 2.2 }, { x: 0.56, y: 1.8 }), value, tolerance);
  });

  it("W-BR1: 1450, and 1590 where the outer ring turns (Jindal, Machine Design, example 18-2)", () => {
    const factors = { x: 0.56, y: 1.2 };
    expectAgreement(equivalentLoad({ radial: 1250, axial: 625 }, factors), 1450, { rel: 1e-12 });
    expectAgreement(equivalentLoad({ radial: 1250, axial: 625, rotation: 1.2 }, factors), 1590, { rel: 1e-12 });
  });

  it("is never below the radial load, unless a radial factor of 0 says that none is carried", () => {
    expect(equivalentLoad({ radial: 10, axial: 0.5 }, { x: 0.56, y: 1.8 })).toBe(10);
    expect(equivalentLoad({ radial: 10, axial: 0.5, rotation: 1.2 }, { x: 0.56, y: 1.8 })).toBe(12);
    expect(equivalentLoad({ radial: 10, axial: 0.5 }, { x: 0, y: 1 })).toBe(0.5);
  });

  it("steps from one pair of factors to the other above e", () => {
    const pair = angularContactFactors(40, "pair");
    // By hand: 10 + 0.55 * 11.3 = 16.215 at the ratio 1.13; 0.57 * 10 + 0.93 * 11.5 = 16.395 above it.
    expectAgreement(equivalentLoad({ radial: 10, axial: 11.3 }, pair), 16.215, { rel: 1e-12 });
    expectAgreement(equivalentLoad({ radial: 10, axial: 11.5 }, pair), 16.395, { rel: 1e-12 });
    // By hand: all axial, 0.57 * 8 = 4.56 for one bearing.
    expectAgreement(equivalentLoad({ radial: 0, axial: 8 }, angularContactFactors(40, "single")), 4.56, { rel: 1e-12 });
  });

  it("refuses loads below 0 and no load", () => {
    expect(() => equivalentLoad({ radial: -1, axial: 2 }, { x: 1, y: 0 })).toThrow("the radial load must be 0 or more");
    expect(() => equivalentLoad({ radial: 1, axial: Number.NaN }, { x: 1, y: 0 })).toThrow("the axial load must be");
    expect(() => equivalentLoad({ radial: 1, axial: 1 }, { x: 1, y: -1 })).toThrow("Y must be 0 or more");
    expect(() => equivalentLoad({ radial: 0, axial: 0 }, { x: 1, y: 1 })).toThrow("come to 0");
    expect(() => equivalentLoad({ radial: 5, axial: 0 }, { x: 0, y: 1 })).toThrow("come to 0");
  });
});

describe("angularContactFactors", () => {
  it.each([
    [25, 0.68, 0.41, 0.87, 0.92, 0.67, 1.41],
    [30, 0.8, 0.39, 0.76, 0.78, 0.63, 1.24],
    [40, 1.14, 0.35, 0.57, 0.55, 0.57, 0.93],
  ] as const)("%d degrees (a maker's catalogue)", (angle, e, x, y, within, pairX, pairY) => {
    expect(angularContactFactors(angle, "single")).toEqual({ e, within: { x: 1, y: 0 }, beyond: { x, y } });
    expect(angularContactFactors(angle, "pair")).toEqual({
      e,
      within: { x: 1, y: within },
      beyond: { x: pairX, y: pairY },
    });
  });

  it("15 degrees goes by the relative axial load: at a row, between rows, beyond the ends", () => {
    const at = (load: number) => angularContactFactors(15, "pair", load);
    expect(at(1.07)).toEqual({ e: 0.46, within: { x: 1, y: 1.38 }, beyond: { x: 0.72, y: 2 } });
    // By hand: half way from 0.178 to 0.357.
    expectAgreement(at(0.2675).e, 0.39, { rel: 1e-12 });
    expectAgreement(at(0.2675).beyond.y, 2.335, { rel: 1e-12 });
    expect(at(0)).toEqual(at(0.178));
    expect(at(50)).toEqual(at(5.35));
    expect(angularContactFactors(15, "single", 3.57).beyond).toEqual({ x: 0.44, y: 1.02 });
  });

  it("agrees with the contact angle: up to e of a single bearing the load hardly jumps", () => {
    for (const angle of [25, 30, 40] as const) {
      const { e, beyond } = angularContactFactors(angle, "single");
      // Print has two digits; X + Y e is 1 within those.
      expectAgreement(beyond.x + beyond.y * e, 1, { abs: 0.02 });
    }
  });

  it("refuses 15 degrees without a relative axial load", () => {
    expect(() => angularContactFactors(15, "single")).toThrow("found undefined");
    expect(() => angularContactFactors(15, "single", Number.NaN)).toThrow(RangeError);
  });
});
