const CLOSERS: Record<string, string> = { "{": "}", "[": "]" };

/**
 * The value of which a text is the beginning: cut where its last whole part ends, what is open there closed; undefined where the text
 * begins no list and no object, or is none.
 */
export function jsonOfStart(text: string): unknown {
  const { end, open } = lastWhole(text);
  try {
    return JSON.parse(`${text.slice(0, end)}${open}`);
  } catch {
    return undefined;
  }
}

/** Where the last part ends that is there as a whole, and the marks that close what is open there. */
function lastWhole(text: string): { end: number; open: string } {
  const closers: string[] = [];
  let last = { end: 0, open: "" };
  const whole = (end: number) => {
    last = { end, open: closers.toReversed().join("") };
  };
  for (let at = 0; at < text.length; at++) {
    const mark = text[at]!;
    if (mark === '"') at = endOfText(text, at);
    else if (mark === ",") whole(at);
    else if (mark === "{" || mark === "[") {
      closers.push(CLOSERS[mark]!);
      whole(at + 1);
    } else if (mark === "}" || mark === "]") {
      closers.pop();
      whole(at + 1);
    }
  }
  return last;
}

/** The quote that closes the text which one opens, or the end. */
function endOfText(text: string, from: number): number {
  for (let at = from + 1; at < text.length; at++) {
    if (text[at] === "\\") at++;
    else if (text[at] === '"') return at;
  }
  return text.length;
}
