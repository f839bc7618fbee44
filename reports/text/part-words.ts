import { count } from "../../src/questions/wording.ts";

/** How much of what is drawn a table has: "19 of 104 steps"; not given where it has all. */
export function partWords(rows: number, all: number, one: string): string | undefined {
  return rows < all ? `${rows.toLocaleString("en-US")} of ${count(all, one)}` : undefined;
}
