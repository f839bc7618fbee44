import { count } from "./wording.ts";

/** In how many rows the aliases file has replaced a unit's number. */
export function aliasWords(rows: number): string {
  return `A unit's number replaced in ${count(rows, "row")} as the aliases file says`;
}
