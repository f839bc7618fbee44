import type { Entity } from "../../src/questions/offenders-answer.ts";
import { capitalised } from "./capitalised.ts";

/** A verdict as the pages show it. */
export function verdictWords(verdict: Entity["verdict"]): string {
  return verdict === "watch" ? "To watch" : capitalised(verdict);
}
