import type { TopLevelSpec } from "vega-lite";
import type { SurvivalStep } from "../../src/questions/answer.ts";
import { COLOURS } from "../theme/colours.ts";
import { CHART_CONFIG } from "./chart-theme.ts";
import { GROUP_LINES } from "./group-lines.ts";
import { type Pickable, pickingOf, unlessPicked } from "./picking.ts";
import { shortLabel } from "./short-label.ts";
import type { Layer, Position } from "./spec-types.ts";
import { spreadApart } from "./spread-apart.ts";
import { thin } from "./thin.ts";

const HEIGHT = 280;
const NAME = 13;
const RISK_ROW = 16;
const PICKS: Pickable[] = [{ kind: "band", field: "name" }];

/** A band's curve as far as it is drawn, and its lives at risk at the round ages. */
export type BandCurve = { name: string; steps: SurvivalStep[]; atRisk: number[] };

/** Share still running by age, band beside band, with the numbers at risk below. */
export function survivalByBand(
  bands: BandCurve[],
  { title, timeTitle, ages }: { title: string; timeTitle: string; ages: number[] },
): TopLevelSpec {
  const shown = bands.slice(0, GROUP_LINES.length);
  const x: Position = {
    field: "time",
    type: "quantitative",
    title: timeTitle,
    scale: {
      domain: [0, 1.12 * Math.max(ages.at(-1) ?? 1, ...shown.map(({ steps }) => steps.at(-1)?.time ?? 0))],
      nice: false,
    },
    axis: { values: ages, format: ",~r", titlePadding: 12 + RISK_ROW * shown.length, labelOverlap: false },
  };
  const y: Position = {
    field: "estimate",
    type: "quantitative",
    title: "Still running",
    scale: { domain: [0, 1] },
    axis: { format: ".0%", values: [0, 0.25, 0.5, 0.75, 1] },
  };
  return {
    description: `Share still running by age, ${title}: ${shown.map(({ name, steps }) => `${name} ${Math.round(100 * (steps.at(-1)?.estimate ?? 1))} % after the last failure`).join("; ")}; numbers at risk under the axis.`,
    config: CHART_CONFIG,
    ...pickingOf(PICKS),
    height: HEIGHT,
    layer: [
      ...shown.flatMap((band, place) => curveLayers(band, place, x, y)),
      ...nameLayers(shown, x, y),
      ...shown.flatMap((band, row) => riskLayers(band, row, ages, x)),
    ],
  };
}

function cornersOf({ steps }: BandCurve): { time: number; estimate: number }[] {
  return [{ time: 0, estimate: 1 }, ...steps];
}

function curveLayers(band: BandCurve, place: number, x: Position, y: Position): Layer[] {
  const { color, dash, width } = GROUP_LINES[place]!;
  const values = thin(cornersOf(band), ({ time }) => time, 80).map(({ time, estimate }) => ({
    name: band.name,
    time,
    estimate,
  }));
  return [
    {
      data: { values },
      mark: { type: "line", interpolate: "step-after", color, strokeWidth: width, strokeDash: [...dash] },
      encoding: { x, y, ...unlessPicked(PICKS) },
    },
    {
      data: { values: thin(values, ({ time }) => time, 30) },
      mark: { type: "point", filled: true, size: 40, color, opacity: 0 },
      encoding: {
        x,
        y,
        tooltip: [
          { field: "name", title: "Band" },
          { field: "time", title: "Age", format: ",.1~f" },
          { field: "estimate", title: "Still running", format: ".1%" },
        ],
      },
    },
  ];
}

function nameLayers(bands: BandCurve[], x: Position, y: Position): Layer[] {
  const ends = bands.map((band) => ({ name: shortLabel(band.name, 18), ...cornersOf(band).at(-1)! }));
  const places = spreadApart(
    ends.map(({ estimate }) => HEIGHT * (1 - estimate)),
    NAME,
    0,
    HEIGHT,
  );
  const values = ends.map(({ name, time }, at) => ({ name, time, estimate: 1 - places[at]! / HEIGHT }));
  const text = { type: "text", align: "left", dx: 6, baseline: "middle", fontSize: 11 } as const;
  const encoding = { x, y, text: { field: "name" } } as const;
  return [
    { data: { values }, mark: { ...text, stroke: COLOURS.paper, strokeWidth: 4, opacity: 0.9 }, encoding },
    { data: { values }, mark: { ...text, color: COLOURS.ink }, encoding },
  ];
}

function riskLayers(band: BandCurve, row: number, ages: number[], x: Position): Layer[] {
  const place = { value: HEIGHT + 28 + RISK_ROW * row };
  const text = { type: "text", baseline: "middle", color: COLOURS.ink, fontSize: 11 } as const;
  return [
    {
      data: { values: ages.map((time, at) => ({ time, text: (band.atRisk[at] ?? 0).toLocaleString("en-US") })) },
      mark: text,
      encoding: { x, y: place, text: { field: "text" } },
    },
    {
      data: { values: [{ text: shortLabel(band.name, 12) }] },
      mark: { ...text, align: "right", color: COLOURS.soft },
      encoding: { x: { value: -20 }, y: place, text: { field: "text" } },
    },
  ];
}
