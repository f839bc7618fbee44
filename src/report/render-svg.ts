import type { TopLevelSpec } from "vega-lite";
import { keptView } from "./kept-runtimes.ts";
import { stillChart } from "./still-chart.ts";

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
    return labelled(ownIds(unspoken(await view.toSVG()), id), label);
  } finally {
    view.finalize();
  }
}

/** A picture is one thing to those who hear it: its parts have roles, but no words. */
function unspoken(svg: string): string {
  return svg.replaceAll(/<[^>]*>/g, (tag) => tag.replaceAll(/ (?:role|aria-[a-z]+)="[^"]*"/g, ""));
}

/** Vega counts its clip paths from one in each process; here they must differ within a page and not between two runs. */
function ownIds(svg: string, id: string): string {
  const known = new Map<string, string>();
  const own = (name: string) => {
    const given = known.get(name) ?? `${id}-${known.size + 1}`;
    known.set(name, given);
    return given;
  };
  return svg.replaceAll(/<[^>]*>/g, (tag) =>
    tag
      .replace(/ id="([^"]*)"/, (_, name: string) => ` id="${own(name)}"`)
      .replaceAll(/url\(#([^)"]*)\)/g, (_, name: string) => `url(#${own(name)})`),
  );
}

function labelled(svg: string, label: string): string {
  const text = label.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");
  return svg.replace("<svg ", () => `<svg role="img" aria-label="${text}" `);
}
