import type { Bin } from "../../src/questions/reading-bins.ts";

const inFull = new Intl.NumberFormat("en-US", { maximumSignificantDigits: 6 });

/** A bar of a histogram of readings by its edges, in full: rounding would move them. */
export function binWords({ from, to }: Pick<Bin, "from" | "to">, unit: string): string {
  return `${edge(from)} to ${edge(to)} ${unit}`;
}

function edge(length: number): string {
  return inFull.format(Number(length.toPrecision(6)));
}
