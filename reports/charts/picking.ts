import type { TopLevelSpec } from "vega-lite";
import type { Layer } from "./spec-types.ts";

/** What can be picked out of charts: one frame or place of a fleet, one part, span of building or reading of a page, one series of a section. */
export type PickKind =
  | "unit"
  | "position"
  | "part"
  | "built"
  | "reading"
  | "slot"
  | "fleet"
  | "band"
  | "mode"
  | "group"
  | "field";

/** A kind that a chart's marks are of, and the field of its rows that says of which one; a list in it where a mark belongs to several. */
export type Pickable = { kind: PickKind; field: string };

/** What the script on the page reads of a chart to know what can be picked there. */
export type PickMeta = { picks: (Pickable & { param: string })[] };

/** How much is left of what is not picked: enough to see where it is, too little to be read first. */
const FADED = 0.18;

/** The parameter that holds what is picked of a kind; null while nothing is. */
function paramOf(kind: PickKind): string {
  return `picked_${kind}`;
}

/** Gives a chart its parameters and says in it what can be picked, the kind that a click on a mark picks first. */
export function pickingOf(picks: Pickable[]): Pick<TopLevelSpec, "usermeta" | "params"> {
  if (picks.length === 0) return {};
  return {
    params: picks.map(({ kind }) => ({ name: paramOf(kind), value: null })),
    usermeta: { picks: picks.map((pick) => ({ ...pick, param: paramOf(pick.kind) })) } satisfies PickMeta,
  };
}

type Encoding = NonNullable<Extract<Layer, { mark: unknown }>["encoding"]>;

/** The opacity of marks: as they are while nothing is picked, faded where something else is. */
export function unlessPicked(picks: Pickable[], opacity = 1): Required<Pick<Encoding, "opacity">> {
  if (picks.length === 0) return { opacity: { value: opacity } };
  const test = picks.map(({ kind, field }) => holds(paramOf(kind), `datum[${JSON.stringify(field)}]`)).join(" && ");
  return { opacity: { condition: { test, value: opacity }, value: opacity * FADED } };
}

function holds(param: string, own: string): string {
  return `(${param} === null || ${own} === ${param} || (isArray(${own}) && indexof(${own}, ${param}) >= 0))`;
}

/** The stroke of points: twice as strong on what is picked, so that it is found among hundreds. */
export function strongerIfPicked(picks: Pickable[], strokeWidth: number): Required<Pick<Encoding, "strokeWidth">> {
  if (picks.length === 0) return { strokeWidth: { value: strokeWidth } };
  const test = picks.map(({ kind, field }) => `datum[${JSON.stringify(field)}] === ${paramOf(kind)}`).join(" || ");
  return { strokeWidth: { condition: { test, value: 2 * strokeWidth }, value: strokeWidth } };
}

/** Weight of the names of rows along an axis: heavy where the row is picked. */
export function heavyIfPicked(kind: PickKind, name: string) {
  return { condition: { test: `${name} === ${paramOf(kind)}`, value: 700 }, value: "normal" } as const;
}
