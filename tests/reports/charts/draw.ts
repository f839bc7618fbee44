import type { TopLevelSpec } from "vega-lite";
import { renderSvg } from "../../../src/report/render-svg.ts";

/** A chart drawn at the width of half a page; a warning of the compiler fails the test. */
export function draw(spec: TopLevelSpec): Promise<string> {
  const onWarning = (warning: string) => {
    throw new Error(`The compiler warns: ${warning}`);
  };
  return renderSvg(spec, { width: 400, id: "test", label: String(spec.description), onWarning });
}

/** The words of a drawing, in their order. */
export function wordsOf(svg: string): string[] {
  return [...svg.matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map(([, words]) => words ?? "");
}

/** Rows of data in all layers of a chart: the marks it may make. */
export function marksOf(spec: TopLevelSpec): number {
  const layers = (spec as { layer: { data?: { values?: unknown[] } }[] }).layer;
  return layers.reduce((sum, { data }) => sum + (data?.values?.length ?? 0), 0);
}
