import { tokensOf } from "./tokens.ts";

/** A text as a name that a configuration takes: lower-case letters, digits and "-", a letter first. */
export function nameOf(text: string, otherwise: string): string {
  const name = tokensOf(text)
    .map((token) => token.replace(/[^a-z0-9]/g, ""))
    .filter((token) => token !== "")
    .join("-")
    .slice(0, 60);
  if (name === "") return otherwise;
  return /^[a-z]/.test(name) ? name : `${otherwise}-${name}`;
}
