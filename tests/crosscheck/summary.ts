import type { Compared } from "./compare.ts";
import type { DataSet } from "./data-sets.ts";
import type { Refused } from "./figures.ts";
import { allowedDifference } from "./kinds.ts";

type Found = Compared & { set: DataSet };

const MOST_SHOWN = 30;

/** What was compared and how far it differs at worst, by kind; then each disagreement with the set that brings it back. */
export function summary(
  all: Found[],
  refused: Refused[],
  { sets, seed }: { sets: number; seed: number },
): { text: string; agrees: boolean } {
  const lines = [`${sets} sets of lives, seed ${seed}, ${all.length} figures compared`];
  const kinds = grouped(all, ({ kind, peer }) => `${kind}, ${peer}`);
  for (const [label, list] of kinds) {
    const worst = list.reduce((most, one) => ((one.difference ?? 0) > (most.difference ?? 0) ? one : most));
    const allowed = worst.peer === "none" ? 0 : allowedDifference(worst.kind, worst.peer);
    const where = `${worst.name} of set ${worst.set.number}`;
    lines.push(`${label}: ${list.length}, worst ${shown(worst.difference)} (${where}), allowed ${allowed}`);
  }
  // The age that a reason may name is of one set alone.
  const reasons = grouped(refused, ({ reason }) => reason.replace(/ age [^,]+/, " age"));
  for (const [reason, list] of reasons) lines.push(`not fitted: ${list.length}, ${reason}`);
  const wrong = all.filter(({ agrees }) => !agrees);
  for (const { kind, peer, name, own, other, difference, set } of wrong.slice(0, MOST_SHOWN)) {
    lines.push(
      `DISAGREES: set ${set.number} of seed ${seed} (${set.style}, ${set.low.length} rows), ${kind}, ${name}: ${own}, ${peer} ${other}, difference ${shown(difference)}`,
    );
  }
  if (wrong.length > MOST_SHOWN) lines.push(`and ${wrong.length - MOST_SHOWN} more`);
  lines.push(wrong.length === 0 ? "all agree" : `${wrong.length} figures disagree`);
  return { text: lines.join("\n"), agrees: wrong.length === 0 };
}

function shown(difference: number | null): string {
  return difference === null ? "not known: one is missing" : difference.toExponential(1);
}

function grouped<Item>(items: Item[], labelOf: (item: Item) => string): Map<string, Item[]> {
  const groups = new Map<string, Item[]>();
  for (const item of items) {
    const label = labelOf(item);
    const group = groups.get(label);
    if (group === undefined) groups.set(label, [item]);
    else group.push(item);
  }
  return groups;
}
