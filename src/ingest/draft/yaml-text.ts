import { stringify } from "yaml";

// What a reader of YAML may take for the end of a line, or a terminal obeys: written as an escape.
const SPECIAL = /[\p{Cc}\u0085\u2028\u2029\ufeff\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/u;
const SPECIALS = new RegExp(SPECIAL.source, "gu");

/** A text, number or truth as YAML, on one line and right also inside brackets and as a key. */
export function yamlScalar(value: string | number | boolean): string {
  if (typeof value !== "string") return String(value);
  if (SPECIAL.test(value))
    return JSON.stringify(value).replace(SPECIALS, (mark) => `\\u${mark.charCodeAt(0).toString(16).padStart(4, "0")}`);
  return stringify([value], { collectionStyle: "flow", lineWidth: 0 }).trim().slice(1, -1).trim();
}

/** A list of the same in brackets. */
export function yamlList(values: (string | number)[]): string {
  return `[${values.map(yamlScalar).join(", ")}]`;
}
