import { describe, expect, it } from "vitest";
import { inOrderOfRatio, MOST_RATIOS, ratiosInOrder } from "../../../reports/charts/ratios-in-order.ts";
import { entitiesOf, entityOf } from "../fixtures.ts";
import { draw, marksOf, wordsOf } from "./draw.ts";

const WORDS = { title: "Saltmere", level: 0.95 };
const UNKNOWN = { estimate: null, low: null, high: null, reason: "no failure is on record" };

describe("inOrderOfRatio()", () => {
  it("has the highest first, and leaves out those without a ratio", () => {
    const known = [entityOf("low", 1, 4), entityOf("high", 9, 3), entityOf("none", 1, 1, { shrunkenRatio: UNKNOWN })];
    expect(inOrderOfRatio(known).map(({ id }) => id)).toEqual(["high", "low"]);
  });
});

describe("ratiosInOrder()", () => {
  it("gives each a row with its name, the highest first", async () => {
    const spec = ratiosInOrder(entitiesOf(12), WORDS);
    const words = wordsOf(await draw(spec));
    expect(words.filter((word) => word.startsWith("QF-"))).toHaveLength(12);
    const { layer } = spec as unknown as { layer: { data: { values: { base: number; estimate: number }[] } }[] };
    const rows = layer[1]!.data.values;
    expect(rows.toSorted((one, other) => other.estimate - one.estimate)).toEqual(rows);
    expect(rows.toSorted((one, other) => one.base - other.base)).toEqual(rows);
    expect(words).toContain("Times the ordinary rate");
  });

  it("draws as many as there is room for", () => {
    const spec = ratiosInOrder(entitiesOf(500), WORDS);
    expect(marksOf(spec)).toBe(3 * MOST_RATIOS + 1);
  });

  it.each([
    { name: "one", entities: [entityOf("A", 0, 2)] },
    {
      name: "an interval far out",
      entities: [entityOf("A", 3, 1, { shrunkenRatio: { estimate: 2, low: 0, high: 1e6 } })],
    },
    {
      name: "limits not known",
      entities: [entityOf("A", 3, 1, { shrunkenRatio: { estimate: 2, low: null, high: null } })],
    },
    { name: "a hostile name", entities: [entityOf(`"]</text><script>alert(1)</script>`, 3, 1)] },
  ])("draws $name", async ({ entities }) => {
    const svg = await draw(ratiosInOrder(entities, WORDS));
    expect(svg).not.toMatch(/NaN|undefined|Infinity|<script/);
  });
});
