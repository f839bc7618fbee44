/** What a cell's number format makes of its number: a day, a time of day, a span of hours, so many figures, or the number as it is. */
export type NumberKind = "number" | "date" | "time" | "span" | { figures: number };

/** Formats that workbooks use without spelling them out (ECMA-376, part 1, 18.8.30); 27 to 36 and 50 to 58 are dates of East Asia. */
export function builtInKind(id: number): NumberKind {
  if (id === 46) return "span";
  if ((id >= 18 && id <= 21) || id === 45 || id === 47 || (id >= 32 && id <= 33)) return "time";
  if ((id >= 14 && id <= 22) || (id >= 27 && id <= 36) || (id >= 50 && id <= 58)) return "date";
  return "number";
}

/**
 * The kind of a format that is spelled out, by its first section (for numbers above zero): y, d, or m without hours are a date, h and s a
 * time, in square brackets a span; letters in quotes or after a backslash say nothing.
 */
export function numberKind(code: string): NumberKind {
  const section = code
    .replace(/"[^"]*"?/g, "")
    .replace(/[\\_*]./g, "")
    .split(";", 1)[0]!;
  if (/^0+$/.test(section)) return { figures: section.length };
  if (/\[(h+|m+|s+)\]/i.test(section)) return "span";
  const letters = section
    .replace(/\[[^\]]*\]/g, "")
    .replace(/General|AM\/PM|A\/P/gi, (word) => (/^g/i.test(word) ? "" : "h"));
  const clock = /[hs]/i.test(letters);
  if (/[yd]/i.test(letters) || (/m/i.test(letters) && !clock)) return "date";
  return clock ? "time" : "number";
}
