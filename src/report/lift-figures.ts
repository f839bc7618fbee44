import type { TopLevelSpec } from "vega-lite";

type Row = Record<string, unknown>;

/** A chart taken apart into what charts of its kind have in common and what is its own. */
export type Lifted = {
  /** The chart with names in the places of its figures. */
  shape: TopLevelSpec;
  data: { name: string; rows: Row[] }[];
  params: { name: string; value: unknown }[];
  height: number;
};

type Axis = { values?: unknown; labelExpr?: unknown };
type Channel = { scale?: { domain?: unknown } | null; axis?: Axis | null };
type Layer = { data?: { values?: unknown; name?: unknown }; encoding?: Record<string, Channel | undefined> };
type Layered = { layer?: Layer[]; data?: unknown; height?: unknown; params?: { name: string }[] };

/** Any height does: marks are placed by the signal that holds it. */
const SOME_HEIGHT = 100;
/** Axes name their places by a table of words. */
const TABLE = /^([[{].*[\]}])\[datum\.value\]$/s;

/**
 * Takes the rows, the ends and marks of the axes, their words and the height out of a chart.
 * @returns null where the chart is of another build than layers with their own rows, so that nothing can be taken out of it
 */
export function liftedOf(spec: TopLevelSpec): Lifted | null {
  const { layer, data, height, params = [], ...rest } = spec as Layered & { description?: unknown; usermeta?: unknown };
  if (layer === undefined || data !== undefined || typeof height !== "number") return null;
  if (!layer.every(({ data }) => Array.isArray(data?.values) && data.name === undefined)) return null;
  const lift = new Lift();
  const layers = layer.map((one) => lift.layer(one));
  // What the picture is called and what can be picked on its page leave no trace in the drawing.
  const { description: _, usermeta: __, ...others } = rest;
  const named = lift.params.map(({ name }) => ({ name, value: null }));
  const shape = { ...others, height: SOME_HEIGHT, layer: layers, params: [...params, ...named] };
  return { shape: shape as unknown as TopLevelSpec, data: lift.data, params: lift.params, height };
}

/** Names the figures of one chart; what is the same gets the same name, for layers share scales that are the same. */
class Lift {
  readonly data: Lifted["data"] = [];
  readonly params: Lifted["params"] = [];
  readonly #rows = new Map<unknown, string>();
  readonly #values = new Map<string, string>();

  layer({ data, encoding, ...rest }: Layer): Layer {
    return {
      ...rest,
      data: { name: this.#rowsName(data?.values as Row[]) },
      ...(encoding && { encoding: { ...encoding, ...this.#axes(encoding) } }),
    };
  }

  #axes(encoding: NonNullable<Layer["encoding"]>) {
    return Object.fromEntries(
      ["x", "y"].flatMap((name) => (encoding[name] === undefined ? [] : [[name, this.#channel(encoding[name])]])),
    );
  }

  #channel(channel: Channel): Channel {
    const { scale, axis } = channel;
    return {
      ...channel,
      ...(scale && Array.isArray(scale.domain) && { scale: { ...scale, domain: this.#domain(scale.domain) } }),
      ...(axis && { axis: this.#axis(axis) }),
    };
  }

  /** The two ends apart: the compiler asks whether an axis has two. */
  #domain(domain: unknown[]): unknown {
    const name = this.#paramName(domain);
    const isRange = domain.length === 2 && domain.every((end) => typeof end === "number");
    return isRange ? domain.map((_, end) => ({ signal: `${name}[${end}]` })) : { signal: name };
  }

  #axis(axis: Axis): Axis {
    const table = tableOf(axis.labelExpr);
    return {
      ...(table === undefined ? axis : this.#looks(axis, String(axis.labelExpr), table)),
      ...(Array.isArray(axis.values) && { values: { signal: this.#paramName(axis.values) } }),
      ...(table !== undefined && { labelExpr: `${this.#paramName(table)}[datum.value]` }),
    };
  }

  /** What words look like may hang on what they say: the same table within a condition. */
  #looks(axis: Axis, expression: string, table: unknown): Axis {
    const looks = Object.entries(axis).map(([name, look]): [string, unknown] => {
      const { condition } = (look ?? {}) as { condition?: { test?: unknown } };
      if (typeof condition?.test !== "string") return [name, look];
      const test = condition.test.replace(expression, () => `${this.#paramName(table)}[datum.value]`);
      return [name, { ...(look as object), condition: { ...condition, test } }];
    });
    return Object.fromEntries(looks);
  }

  #rowsName(rows: Row[]): string {
    const name = this.#rows.get(rows) ?? `rows_${this.data.length}`;
    if (!this.#rows.has(rows)) this.data.push({ name, rows });
    this.#rows.set(rows, name);
    return name;
  }

  #paramName(value: unknown): string {
    const key = JSON.stringify(value);
    const name = this.#values.get(key) ?? `lifted_${this.params.length}`;
    if (!this.#values.has(key)) this.params.push({ name, value });
    this.#values.set(key, name);
    return name;
  }
}

function tableOf(labelExpr: unknown): unknown {
  const text = typeof labelExpr === "string" ? TABLE.exec(labelExpr)?.[1] : undefined;
  if (text === undefined) return undefined;
  try {
    return JSON.parse(text);
  } catch {
    return undefined; // An expression that only looks like one stays in its place.
  }
}
