import { describe, expect, it } from "vitest";
import { UserError } from "../../src/errors.ts";
import { Configuration } from "../../src/workspace/configuration.ts";
import { parseYaml } from "../../src/workspace/yaml-file.ts";

const shop = `title: Shop
fleets:
  - { name: main, title: Main plant }
slots:
  drive_end_bearings: { title: Drive-end bearings, quantity: 2, kind: bearing }
  drive_end_seals: { title: Drive-end seals, quantity: 1, kind: seal }
pipelines: [cards]
`;

const read = (bearings: string) => parseYaml(`${shop}${bearings}`, "framelife.yaml", Configuration).bearings;

describe("bearing data", () => {
  it("may be left out", () => {
    expect(read("")).toEqual({});
  });

  it("take a slot's figures, and a fleet's own beside them", () => {
    const figures = "{ kind: angular-contact ball, dynamic_rating: 60, contact_angle: 40, source: list";
    const own = "fleets: { main: { equivalent_load: 9, contamination: { grease: normal }, source: estimate } }";
    expect(read(`bearings:\n  drive_end_bearings: ${figures}, ${own} }\n`)).toEqual({
      drive_end_bearings: {
        kind: "angular-contact ball",
        dynamic_rating: 60,
        contact_angle: 40,
        source: "list",
        fleets: { main: { equivalent_load: 9, contamination: { grease: "normal" }, source: "estimate" } },
      },
    });
  });

  it("need no source where a part alone is named", () => {
    expect(read("bearings: { drive_end_bearings: { part: QB-31, kind: thrust ball } }")).toMatchObject({
      drive_end_bearings: { part: "QB-31", fleets: {} },
    });
  });

  it.each([
    { figures: "dynamic_rating: 60", at: "source", says: "say where dynamic_rating comes from: a maker's catalogue" },
    { figures: "contamination: { grease: high }", at: "source", says: "say where contamination comes from" },
    { figures: "fleets: { main: { speed: 1500 } }", at: "fleets.main.source", says: "say where speed comes from" },
    { figures: "dynamic_rating: 0, source: x", at: "dynamic_rating", says: "a number of kN, above 0" },
    { figures: "dynamic_rating: sixty, source: x", at: "dynamic_rating", says: "a number of kN, above 0" },
    { figures: "dynamic_rating: .nan, source: x", at: "dynamic_rating", says: "a number of kN, above 0" },
    { figures: "dynamic_rating: .inf, source: x", at: "dynamic_rating", says: "a number of kN, above 0" },
    { figures: "dynamic_rating: 60000, source: x", at: "dynamic_rating", says: "this looks like newtons" },
    { figures: "radial_load: -1, source: x", at: "radial_load", says: "a number of kN, 0 or more" },
    { figures: "kind: ball, source: x", at: "kind", says: "angular-contact ball" },
    { figures: "contact_angle: 26, source: x", at: "contact_angle", says: "one of 15, 25, 30, 40 degrees" },
    { figures: "reliability: 95, source: x", at: "reliability", says: "0.95 for 95 %" },
    { figures: "contamination: 1.2, source: x", at: "contamination", says: "a factor from 0 to 1, or how clean" },
    {
      figures: "contamination: { oil_filtered: -/21/18 }, source: x",
      at: "contamination",
      says: "{ oil_filtered: -/13/10",
    },
    { figures: "pieces: 1.5, source: x", at: "pieces", says: "whole number" },
    { figures: "speed: 0.2, source: x", at: "speed", says: "revolutions a minute" },
    { figures: "equivalent_load: 5, axial_load: 3, source: x", at: "equivalent_load", says: "not both" },
    { figures: "x: 0.35, source: x", at: "x", says: "x and y go together" },
    { figures: "fleets: { mian: { speed: 1500, source: x } }", at: "fleets.mian", says: "there is no fleet" },
  ])("are refused where $figures", ({ figures, at, says }) => {
    const faulty = () => read(`bearings:\n  drive_end_bearings: { ${figures} }\n`);
    expect(faulty).toThrow(UserError);
    expect(faulty).toThrow(`framelife.yaml, line 9 at "bearings.drive_end_bearings.${at}"`);
    expect(faulty).toThrow(says);
  });

  it("name the keys that are known when one is not", () => {
    expect(() => read("bearings: { drive_end_bearings: { rating: 60, source: x } }")).toThrow(/rating/);
  });

  it.each(["drive_end_seals", "pump_end_bearing"])("go to slots of kind bearing, not to %s", (slot) => {
    expect(() => read(`bearings: { ${slot}: { part: QS-1 } }`)).toThrow(
      `there is no slot "${slot}" of kind bearing; there are drive_end_bearings`,
    );
  });
});
