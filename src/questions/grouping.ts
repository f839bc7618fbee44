import type { By } from "./answer.ts";
import type { Scope, Source } from "./scope.ts";

/** What stands in for a value that is missing in a `--by` column. */
export const NOT_RECORDED = "(not recorded)";

/** The columns that make the groups: those asked for, after `apart`, which are answered for apart where not fixed. */
export function groupedBy(scope: Scope, source: Source, apart: ("fleet" | "slot")[]): string[] {
  const open = source.kind === "table" ? [] : apart.filter((name) => scope[name] === undefined);
  return [...new Set([...open, ...scope.by])];
}

/** A fixed fleet or slot names the group as well. */
export function withFixed(by: By, scope: Scope, source: Source): By {
  if (source.kind === "table") return by;
  const { fleet = scope.fleet, slot = scope.slot, ...others } = by;
  return { ...(fleet === undefined ? {} : { fleet }), ...(slot === undefined ? {} : { slot }), ...others };
}

/** Of so many groups the worst is partly the unluckiest. */
const MANY = 10;

/** What to be careful of where many groups other than fleets and slots stand side by side. */
export function manyGroups(groups: { by: By }[]): string[] {
  const others = Object.keys(groups[0]?.by ?? {}).some((key) => key !== "fleet" && key !== "slot");
  if (!others || groups.length < MANY) return [];
  return [`of ${groups.length} groups the worst is partly the unluckiest: its place in the list is no verdict on it`];
}

const natural = new Intl.Collator("en", { numeric: true });

/** Order of groups for people: P2 before P10, a band that is open below first, what is not recorded last. */
export function compareGroups(one: { by: By }, other: { by: By }): number {
  for (const [column, value] of Object.entries(one.by)) {
    const against = other.by[column] ?? "";
    const order = place(value) - place(against) || natural.compare(value, against);
    if (order !== 0) return order;
  }
  return 0;
}

function place(value: string): number {
  if (value === NOT_RECORDED) return 1;
  return value.startsWith("under ") ? -1 : 0;
}
