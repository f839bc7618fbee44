import type { TopLevelSpec } from "vega-lite";

/** One layer of a chart. */
export type Layer = Extract<TopLevelSpec, { layer: unknown }>["layer"][number];

type UnitLayer = Extract<Layer, { mark: unknown }>;

/** The channel of an axis: field, scale and axis together. */
export type Position = Extract<
  NonNullable<NonNullable<UnitLayer["encoding"]>["x"]>,
  { axis?: unknown; scale?: unknown }
>;
