import type { AuditAnswer } from "./audit-types.ts";
import { count } from "./wording.ts";

type Counts = Pick<AuditAnswer["corrections"], "applied" | "settled" | "waiting" | "stale" | "unmatched">;

/** How many corrections were taken, and what of the others; "" where there is none. */
export function correctionCounts({ applied, settled, waiting, stale, unmatched }: Counts): string {
  return [
    `${count(applied, "correction")} applied`,
    ...(settled === 0 ? [] : [`${count(settled, "says", "say")} what the export says by now`]),
    ...(waiting === 0 ? [] : [`${count(waiting, "waits", "wait")} for framelife ingest`]),
    ...(stale.length === 0 ? [] : [`${stale.length} whose old value stands there no more`]),
    ...(unmatched.length === 0 ? [] : [`${unmatched.length} that no record answers to`]),
  ].join("; ");
}
