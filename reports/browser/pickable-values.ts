import type { Pickable, PickKind, PickMeta } from "../charts/picking.ts";
import { specOf } from "./live-charts.ts";

/** What can be picked out of a chart. */
export function picksOf(chart: Element): PickMeta["picks"] {
  return specOf(chart).usermeta?.picks ?? [];
}

const known = new WeakMap<Element, Map<PickKind, Set<string>>>();

/** Names of a kind among the marks of a chart, in the order in which they are drawn. */
export function valuesIn(chart: Element, { kind, field }: Pickable): ReadonlySet<string> {
  const own = known.get(chart) ?? new Map<PickKind, Set<string>>();
  known.set(chart, own);
  const found = own.get(kind) ?? new Set(rowsOf(chart).flatMap((row) => namesIn(row[field])));
  own.set(kind, found);
  return found;
}

/** What a mark is of: one name, several, or none. */
export function namesIn(value: unknown): string[] {
  if (Array.isArray(value)) return value.flatMap(namesIn);
  return typeof value === "string" && value !== "" ? [value] : [];
}

function rowsOf(chart: Element): Record<string, unknown>[] {
  return (specOf(chart).layer ?? []).flatMap(({ data }) => data?.values ?? []);
}
