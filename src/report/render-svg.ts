import type { TopLevelSpec } from "vega-lite";
import { keptView } from "./kept-runtimes.ts";
import { stillChart } from "./still-chart.ts";
import { svgText } from "./svg-text.ts";

export type SvgOptions = {
  /** Width of the picture, in CSS pixels. */
  width: number;
  /** Put before the ids inside, so that several pictures can stand in one page. */
  id: string;
  /** What the picture shows, for those who can't see it. */
  label: string;
  /** Told of what the compiler finds odd; a picture comes all the same. Nothing is done where not given. */
  onWarning?: (warning: string) => void;
};

/**
 * Draws a chart as SVG text, without a browser.
 * @throws TypeError if the specification can't be drawn
 */
export async function renderSvg(
  spec: TopLevelSpec,
  { width, id, label, onWarning = () => {} }: SvgOptions,
): Promise<string> {
  const sized = { ...stillChart(spec), width, autosize: { type: "fit-x", contains: "padding" } } as TopLevelSpec;
  const view = keptView(sized, onWarning);
  try {
    return await svgText(view, { id, label });
  } finally {
    view.finalize();
  }
}
