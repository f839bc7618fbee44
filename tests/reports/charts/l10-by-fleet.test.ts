import { describe, expect, it } from "vitest";
import { l10ByFleet, MOST_FLEET_ROWS } from "../../../reports/charts/l10-by-fleet.ts";
import { draw, marksOf, wordsOf } from "./draw.ts";

const OPTIONS = { level: 0.95, timeTitle: "Running hours" };
const l10 = (estimate: number) => ({ estimate, low: 0.8 * estimate, high: 1.3 * estimate });
const fleet = (name: string, life: number) => ({ fleet: name, l10: l10(life), pooled: null });

/** Names of slots and fleets by their height in the drawing, from the top. */
function namesDownwards(svg: string): string[] {
  const texts = svg.matchAll(
    /<text[^>]*translate\([-\d.]+,([-\d.]+)\)[^>]*>(Saltmere|Ostrel|Drive-end bearings|Shaft sleeve)</g,
  );
  return [...texts]
    .map(([, y, name = ""]) => ({ y: Number(y), name }))
    .toSorted((a, b) => a.y - b.y)
    .map(({ name }) => name);
}

describe("l10ByFleet()", () => {
  it("puts the fleets of a slot under its name, in their order", async () => {
    const slots = [
      { slot: "Drive-end bearings", fleets: [fleet("Saltmere", 3360), fleet("Ostrel", 2150)] },
      { slot: "Shaft sleeve", fleets: [fleet("Ostrel", 9000)] },
    ];
    const svg = await draw(l10ByFleet(slots, OPTIONS));
    expect(namesDownwards(svg)).toEqual(["Drive-end bearings", "Saltmere", "Ostrel", "Shaft sleeve", "Ostrel"]);
    expect(wordsOf(svg)).toEqual(expect.arrayContaining(["3,360", "2,150", "9,000"]));
  });

  it("writes a fleet's name out as far as there is room", async () => {
    const names = ["Saltmere drainage stations", "Saltmere drainage stations and sluices"];
    const words = wordsOf(
      await draw(l10ByFleet([{ slot: "Seals", fleets: names.map((name) => fleet(name, 1)) }], OPTIONS)),
    );
    expect(words).toEqual(expect.arrayContaining(["Saltmere drainage stations", "Saltmere drainage stations…"]));
  });

  it("sets the figure that borrows beside, hollow, with how far it moved", async () => {
    const pooled = { l10: l10(3000), moved: "-11 %" };
    const slots = [{ slot: "Seals", fleets: [{ ...fleet("Saltmere", 3360), pooled }, fleet("Ostrel", 2150)] }];
    const svg = await draw(l10ByFleet(slots, OPTIONS));
    expect(wordsOf(svg)).toContain("3,000 (-11 %)");
    expect(svg.match(/fill="#fdfdfb" stroke="#4d5b69"/g)).toHaveLength(1);
  });

  it("draws a fleet that has nothing but what it borrows, and open ends", async () => {
    const none = { estimate: null, low: null, high: null, reason: "no failure" };
    const slots = [
      {
        slot: "Seals",
        fleets: [
          { fleet: "Saltmere", l10: none, pooled: { l10: l10(3000), moved: null } },
          { fleet: "Ostrel", l10: { estimate: 900, low: null, high: null }, pooled: null },
        ],
      },
    ];
    const svg = await draw(l10ByFleet(slots, OPTIONS));
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    expect(wordsOf(svg)).toEqual(expect.arrayContaining(["3,000", "900"]));
  });

  it("stays within 2,000 marks for as many rows as a page has", () => {
    const pooled = { l10: l10(3000), moved: "+1 %" };
    const fleets = Array.from({ length: MOST_FLEET_ROWS }, (_, row) => ({ ...fleet(`F${row}`, 1000 + row), pooled }));
    expect(marksOf(l10ByFleet([{ slot: "Seals", fleets }], OPTIONS))).toBeLessThanOrEqual(2000);
  });
});
