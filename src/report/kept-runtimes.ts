import { parse, type Runtime, View } from "vega";
import { compile, type TopLevelSpec } from "vega-lite";
import { keptExpressions } from "./kept-expressions.ts";
import { type Lifted, liftedOf } from "./lift-figures.ts";

/** What Vega and Vega-Lite report to. */
type ChartLogger = NonNullable<NonNullable<Parameters<typeof compile>[1]>["logger"]>;

type Warn = (warning: string) => void;

/** Shapes that are kept: a report has some fifty. */
const MOST = 200;

type Kept = { runtime: Runtime; warnings: string[] };

const kept = new Map<string, Kept>();

/** A view of a chart that is compiled and parsed for itself. */
export function plainView(spec: TopLevelSpec, warn: Warn): View {
  return new View(runtimeOf(spec, warn), { renderer: "none", logger: loggerTo(warn) });
}

/**
 * The same view, made from what was compiled and parsed for another chart of its shape where there was one: compiling and parsing take half of the
 * time of a picture, and charts of one kind differ in little but their figures.
 */
export function keptView(spec: TopLevelSpec, warn: Warn): View {
  const lifted = liftedOf(spec);
  if (lifted === null) return plainView(spec, warn);
  const { runtime, warnings } = keptOf(lifted);
  for (const warning of warnings) warn(warning);
  const view = new View(runtime, { renderer: "none", logger: loggerTo(warn), expr: keptExpressions });
  view.height(lifted.height);
  for (const { name, value } of lifted.params) view.signal(name, value);
  // Rows are marked by the view that they are given to; those of the chart stay as they are.
  for (const { name, rows } of lifted.data)
    view.data(
      name,
      rows.map((row) => ({ ...row })),
    );
  return view;
}

function keptOf({ shape }: Lifted): Kept {
  const key = JSON.stringify(shape);
  const warnings: string[] = [];
  const own = kept.get(key) ?? { runtime: runtimeOf(shape, (warning) => warnings.push(warning)), warnings };
  // The last one used stands last, the first is the one to go.
  kept.delete(key);
  kept.set(key, own);
  if (kept.size > MOST) for (const [oldest] of [...kept].slice(0, 1)) kept.delete(oldest);
  return own;
}

function runtimeOf(spec: TopLevelSpec, warn: Warn): Runtime {
  return parse(compile(spec, { logger: loggerTo(warn) }).spec);
}

function loggerTo(warn: Warn): ChartLogger {
  const logger = {
    level: () => logger,
    error: (...said: readonly unknown[]) => {
      throw new TypeError(`Cannot draw a chart: ${said.join(" ")}`);
    },
    warn: (...said: readonly unknown[]) => {
      warn(said.join(" "));
      return logger;
    },
    info: () => logger,
    debug: () => logger,
  };
  return logger as unknown as ChartLogger;
}
