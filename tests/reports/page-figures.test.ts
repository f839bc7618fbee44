import { beforeAll, describe, expect, it } from "vitest";
import { MOST_MARKS } from "../../reports/charts/chart-theme.ts";
import { COLOURS } from "../../reports/theme/colours.ts";
import { marksOf } from "./charts/draw.ts";
import { type PageFigure, pageFigures } from "./page-figures.ts";

type Channel = {
  field?: string;
  type?: string;
  title?: string | null;
  legend?: unknown;
  scale?: unknown;
  axis?: { format?: string; labelExpr?: string } | null;
};
type Layer = { mark: { type: string }; encoding?: Record<string, Channel | undefined> };

let figures: PageFigure[];
let charts: { name: string; description: string; layers: Layer[]; spec: PageFigure["charts"][number]["spec"] }[];

beforeAll(async () => {
  figures = await pageFigures();
  charts = figures.flatMap(({ page, title, charts }) =>
    charts.map(({ spec }) => ({
      name: `${page}: ${title}`,
      description: String(spec.description),
      layers: (spec as unknown as { layer: Layer[] }).layer,
      spec,
    })),
  );
});

/** Titles that are a unit themselves: what is counted, a share, a ratio. */
const UNIT = /\(.+\)|hours|days|share|chance|times|over expected|failures|builds|rebuilds|pieces|frames/i;

describe("the figures of all pages", () => {
  it("are of every kind that pages have", () => {
    // By hand: a fleet page has 4, a life page 4 to 5 a slot, and so on; fewer means that the test looks at nothing.
    expect(figures.length).toBeGreaterThan(25);
    expect(charts.length).toBeGreaterThan(35);
  });

  it("say in their title what is found, with its figures", () => {
    const bare = figures.filter(({ title }) => !/\d/.test(title.replace(/^Figure \d+\./, "")));
    // A contrast may have no figure: then its verdict is what is found.
    expect(bare.filter(({ title }) => !/enough evidence|No effect|beyond chance|none has failed/.test(title))).toEqual(
      [],
    );
  });

  it("have their table with them", () => {
    expect(figures.filter(({ hasTable }) => !hasTable)).toEqual([]);
  });

  it("have an alternative text that states the result in figures", () => {
    expect(charts.filter(({ description }) => !/\d/.test(description) || description.length < 40)).toEqual([]);
  });

  it("have no more marks than a picture can show", () => {
    expect(charts.filter(({ spec }) => marksOf(spec) > MOST_MARKS).map(({ name }) => name)).toEqual([]);
  });

  it("name each series where it is, without a legend", () => {
    const withLegend = charts.filter(({ layers, spec }) => {
      const channels = layers.flatMap(({ encoding = {} }) =>
        ["color", "fill", "stroke", "shape", "size", "strokeDash"].flatMap((name) => encoding[name] ?? []),
      );
      return (
        JSON.stringify(spec).includes('"legend":') ||
        channels.some(({ field, scale }) => field !== undefined && scale !== null)
      );
    });
    expect(withLegend.map(({ name }) => name)).toEqual([]);
  });

  it("have a unit, a count or a share on each axis of figures", () => {
    const faults = charts.flatMap(({ name, layers }) =>
      ["x", "y"].flatMap((along) => {
        const channels = layers.flatMap(({ encoding }) => encoding?.[along] ?? []);
        const axes = channels.filter(
          ({ field, type, axis }) =>
            field !== undefined && type === "quantitative" && axis !== null && axis?.labelExpr === undefined,
        );
        const titles = new Set(axes.map(({ title }) => title));
        return axes.length === 0 ||
          [...titles].some((title) => typeof title === "string" && UNIT.test(title)) ||
          axes.some(({ axis }) => axis?.format?.includes("%"))
          ? []
          : [`${name}, ${along}: ${[...titles].join()}`];
      }),
    );
    expect(faults).toEqual([]);
  });

  it("answer the pointer", () => {
    expect(charts.filter(({ layers }) => !layers.some(({ encoding }) => encoding?.["tooltip"] !== undefined))).toEqual(
      [],
    );
  });

  it("have the colours of the theme and no other, which the style sheet repaints for dark paper", () => {
    const known = new Set<string>(Object.values(COLOURS));
    const found = new Set(charts.flatMap(({ spec }) => JSON.stringify(spec).match(/#[0-9a-f]{3,8}\b/gi) ?? []));
    expect([...found].filter((colour) => !known.has(colour))).toEqual([]);
  });

  it("can be picked by frame, by position and by each kind of series", () => {
    const kinds = new Set(
      charts.flatMap(({ spec }) => ((spec.usermeta?.["picks"] ?? []) as { kind: string }[]).map(({ kind }) => kind)),
    );
    expect([...kinds].toSorted()).toEqual([
      ...["band", "built", "field", "fleet", "group", "mode", "part", "position", "reading", "slot", "unit"],
    ]);
  });

  it("have the field of what can be picked in their rows", () => {
    const faults = charts.flatMap(({ name, spec }) => {
      const rows = (spec as unknown as { layer: { data: { values: Record<string, unknown>[] } }[] }).layer.flatMap(
        ({ data }) => data.values,
      );
      const picks = (spec.usermeta?.["picks"] ?? []) as { kind: string; field: string }[];
      return picks.filter(({ field }) => !rows.some((row) => row[field] != null)).map(({ kind }) => `${name}: ${kind}`);
    });
    expect(faults).toEqual([]);
  });
});
