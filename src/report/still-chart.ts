import type { TopLevelSpec } from "vega-lite";

type Channel = { scale?: { domain?: unknown } };
type Layer = {
  params?: { select?: unknown }[];
  mark?: { opacity?: number };
  encoding?: { x?: Channel; y?: Channel; tooltip?: unknown };
};

/**
 * A chart without what only a pointer sees: marks that are invisible until it is near, the cells by which the nearest is found, and the
 * words about each mark. The picture is the same; cells alone can be half of it.
 */
export function stillChart(spec: TopLevelSpec): TopLevelSpec {
  const { layer } = spec as { layer?: Layer[] };
  if (layer === undefined) return spec;
  return { ...spec, layer: layer.filter((one) => !isForPointer(one)).map(wordless) } as TopLevelSpec;
}

/** Words that show beside a pointer are put together for every mark, and twice: as often as the picture is laid out. */
function wordless(one: Layer): Layer {
  const { tooltip: _, ...encoding } = one.encoding ?? {};
  return { ...one, encoding };
}

/** Axes whose ends are given don't ask what the layer holds. */
function isForPointer({ params, mark, encoding }: Layer): boolean {
  const placed = [encoding?.x, encoding?.y].every((channel) => Array.isArray(channel?.scale?.domain));
  const isSelected = params?.some(({ select }) => select !== undefined) ?? false;
  return placed && (isSelected || (mark?.opacity === 0 && encoding?.tooltip !== undefined));
}
