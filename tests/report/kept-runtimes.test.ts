import type { TopLevelSpec } from "vega-lite";
import { beforeAll, describe, expect, it } from "vitest";
import { keptView, plainView } from "../../src/report/kept-runtimes.ts";
import { liftedOf } from "../../src/report/lift-figures.ts";
import { stillChart } from "../../src/report/still-chart.ts";
import { pageFigures } from "../reports/page-figures.ts";

type Chart = { title: string; spec: TopLevelSpec };
let charts: Chart[];

beforeAll(async () => {
  charts = (await pageFigures()).flatMap(({ title, charts }) =>
    charts.map(({ spec, width }) => ({
      title,
      spec: { ...spec, width, autosize: { type: "fit-x", contains: "padding" } } as TopLevelSpec,
    })),
  );
});

const ignore = () => {};

/** Vega numbers its clip paths through the process. */
async function drawn(view: { toSVG: () => Promise<string>; finalize: () => void }): Promise<string> {
  const svg = await view.toSVG();
  view.finalize();
  const known = new Map<string, string>();
  return svg.replaceAll(/clip\d+/g, (name) => {
    const own = known.get(name) ?? `clip-${known.size}`;
    known.set(name, own);
    return own;
  });
}

describe("keptView()", () => {
  it("draws every chart of every page as it is drawn when compiled for itself, byte for byte", async () => {
    for (const { title, spec } of charts) {
      const plain = await drawn(plainView(spec, ignore));
      expect(await drawn(keptView(spec, ignore)), title).toBe(plain);
      // And again, from what was kept for the first.
      expect(await drawn(keptView(spec, ignore)), title).toBe(plain);
    }
  });

  it("finds charts that have their shape in common", () => {
    const shapes = charts.map(({ spec }) => liftedOf(spec));
    expect(shapes.every((lifted) => lifted !== null)).toBe(true);
    expect(new Set(shapes.map((lifted) => JSON.stringify(lifted?.shape))).size).toBeLessThan(0.8 * charts.length);
  });

  it("leaves the rows of a chart as they were", () => {
    const spec = structuredClone(charts[0]!.spec);
    const before = structuredClone(spec);
    keptView(spec, ignore).finalize();
    expect(spec).toEqual(before);
    const [layer] = (spec as unknown as { layer: { data: { values: object[] } }[] }).layer;
    expect(Object.getOwnPropertySymbols(layer!.data.values[0]!)).toEqual([]);
  });

  it("tells each chart of a shape of what the compiler finds odd in it", () => {
    const layer = (x: number) => ({
      data: { values: [{ x }] },
      mark: "bar",
      encoding: { x: { field: "x", type: "quantitative", scale: { type: "band", domain: [0, x] } } },
    });
    const told = [3, 4].map((x) => {
      const warnings: string[] = [];
      keptView({ height: 50, layer: [layer(x)] } as unknown as TopLevelSpec, (text) => warnings.push(text)).finalize();
      return warnings;
    });
    expect(told[0]!.join()).toContain("band");
    expect(told[1]).toEqual(told[0]);
  });

  it("draws charts of another build for themselves", async () => {
    const spec = {
      width: 100,
      data: { values: [{ x: 1 }] },
      mark: "point",
      encoding: { x: { field: "x", type: "quantitative" } },
    } as TopLevelSpec;
    expect(liftedOf(spec)).toBeNull();
    expect(await drawn(keptView(spec, ignore))).toContain("mark-symbol");
  });
});

describe("liftedOf()", () => {
  it("leaves words along an axis that are no table in their place", () => {
    const spec = (labelExpr: string) => ({
      height: 50,
      layer: [{ data: { values: [] }, mark: "point", encoding: { x: { field: "x", axis: { labelExpr } } } }],
    });
    const lifted = (labelExpr: string) => JSON.stringify(liftedOf(spec(labelExpr) as unknown as TopLevelSpec)?.shape);
    expect(lifted("{nothing: 1}[datum.value]")).toContain("{nothing: 1}[datum.value]");
    expect(lifted('{"1":"one"}[datum.value]')).toContain("lifted_0[datum.value]");
  });
});

describe("liftedOf() of an axis whose words look like what they say", () => {
  it("takes the table out of the condition as well", () => {
    const axis = (words: string) => {
      const table = `{"1":"${words}"}[datum.value]`;
      return {
        labelExpr: table,
        labelColor: { condition: { test: `test(/^w/, ${table})`, value: "red" }, value: "blue" },
      };
    };
    const spec = (words: string) => ({
      height: 50,
      layer: [{ data: { values: [] }, mark: "point", encoding: { x: { field: "x", axis: axis(words) } } }],
    });
    const lifted = (words: string) => liftedOf(spec(words) as unknown as TopLevelSpec);
    expect(lifted("window")?.params).toEqual([{ name: "lifted_0", value: { 1: "window" } }]);
    expect(lifted("window")?.shape).toEqual(lifted("usual")?.shape);
    expect(JSON.stringify(lifted("window")?.shape)).toContain("test(/^w/, lifted_0[datum.value])");
  });
});

describe("stillChart()", () => {
  it("leaves away what is seen by the pointer alone, and nothing that is seen", async () => {
    const marks = (svg: string) => svg.match(/<(path|line|rect|text)\b[^>]*>[^<]*/g) ?? [];
    // Cells by which the nearest mark is found have this width and neither fill nor colour.
    const isCell = (mark: string) => / stroke-width="0\.35"/.test(mark) && !/ (fill|stroke)="/.test(mark);
    const isSeen = (mark: string) => !/ opacity="0"/.test(mark) && !isCell(mark);
    let gone = 0;
    for (const { title, spec } of charts) {
      const all = marks(await drawn(plainView(spec, ignore)));
      const left = marks(await drawn(plainView(stillChart(spec), ignore)));
      expect(left.filter(isSeen), title).toEqual(all.filter(isSeen));
      gone += all.length - left.length;
    }
    expect(gone).toBeGreaterThan(500);
  });
});
