// C0 and C1 control characters, and the marks that turn the direction of a line: a terminal obeys them (ECMA-48, Unicode 9.2 of UAX 9).
const OBEYED = /[\p{Cc}\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]/gu;

// JSON escapes the C0 ones itself.
const LEFT_BY_JSON = /[\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]/g;

const NAMES: Record<string, string> = { "\n": "\\n", "\r": "\\r", "\t": "\\t" };

/**
 * A text of the exports on one line of a terminal: what a terminal would obey instead of show is written as an escape.
 * @example printable("a\u001b[2Jb"); // "a\\u001b[2Jb"
 */
export function printable(text: string): string {
  return text.replaceAll(OBEYED, (mark) => NAMES[mark] ?? escaped(mark));
}

/** JSON that can be shown on a terminal: the same value, with those characters escaped that JSON itself leaves as they are. */
export function printableJson(value: unknown, indent?: number): string {
  return JSON.stringify(value, null, indent).replaceAll(LEFT_BY_JSON, escaped);
}

function escaped(mark: string): string {
  return `\\u${mark.charCodeAt(0).toString(16).padStart(4, "0")}`;
}
