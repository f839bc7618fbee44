import { capitalised } from "./capitalised.ts";

/** A damage mode as words: "Subsurface fatigue". */
export function modeName(mode: string): string {
  return capitalised(mode.replaceAll("_", " "));
}
