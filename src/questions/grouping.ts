import type { By } from "./answer.ts";
import type { Scope, Source } from "./scope.ts";

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
