import type { Result } from "vega-embed";
import type { PickMeta } from "../charts/picking.ts";

export type View = Result["view"];

/** A chart as its page holds it: the element about it and what it is drawn from. */
export type ChartSpec = { usermeta?: Partial<PickMeta>; layer?: { data?: { values?: Record<string, unknown>[] } }[] };

/** A chart that answers the pointer. */
export type LiveChart = { element: Element; view: View };

const specs = new WeakMap<Element, ChartSpec>();
const live: LiveChart[] = [];
const watchers: ((chart: LiveChart) => void)[] = [];

/** What a chart is drawn from; it stands beside the drawing. */
export function specOf(chart: Element): ChartSpec {
  const known = specs.get(chart);
  if (known !== undefined) return known;
  const spec = JSON.parse(chart.querySelector('script[type="application/json"]')?.textContent ?? "{}") as ChartSpec;
  specs.set(chart, spec);
  return spec;
}

/** Makes a chart that has come to life known to those who asked. */
export function addLive(chart: LiveChart): void {
  live.push(chart);
  for (const watch of watchers) watch(chart);
}

/** Charts that live now. */
export function liveCharts(): readonly LiveChart[] {
  return live;
}

/** Asks to be told of each chart that comes to life from now on. */
export function onLive(watch: (chart: LiveChart) => void): void {
  watchers.push(watch);
}
