import { quoteText } from "../../store/quote.ts";

// January to December, whole and short, in English, German, French and Spanish; a name means the same month in each that has it.
const NAMES = [
  "january jan januar jänner jän janvier janv enero ene",
  "february feb februar febr februari feber février fevrier févr fevr fév fev febrero",
  "march mar märz maerz mär mrz mars marzo",
  "april apr avril avr abril abr",
  "may mai mayo",
  "june jun juni juin junio",
  "july jul juli juillet juil julio",
  "august aug août aout agosto ago",
  "september sep sept septembre septiembre setiembre set",
  "october oct oktober okt octobre octubre",
  "november nov novembre noviembre",
  "december dec dezember dez décembre decembre déc diciembre dic",
].map((names) => names.split(" "));

const BY_LENGTH = NAMES.flat().toSorted((a, b) => b.length - a.length);
const MONTHS = `map {${NAMES.flatMap((names, index) =>
  names.map((name) => `${quoteText(name)}: '${String(index + 1).padStart(2, "0")}'`),
).join(", ")}}`;

/** Pattern of a month's name, whole or short, without regard to case. */
export const MONTH_NAME = `(?:${BY_LENGTH.join("|")})`;

/** Whether a pattern has the month by its name, whole or short. */
export function namesMonth(pattern: string): boolean {
  return /%-?[bB]/.test(pattern);
}

/** SQL of a text with its month's name as two figures, NULL where it has none. The point of a short name goes with it. */
export function monthInFigures(text: string): string {
  const name = `regexp_extract(${text}, '(?i)(?:^|[^\\p{L}])(${BY_LENGTH.join("|")})(?:[^\\p{L}]|$)', 1)`;
  const figures = `${MONTHS}[lower(${name})]`;
  return `replace(replace(${text}, ${name} || '. ', ${figures} || ' '), ${name}, ${figures})`;
}

/** The pattern of a text that {@link monthInFigures} has been over. */
export function patternInFigures(pattern: string): string {
  return pattern.replace(/%-?[bB]/g, "%m");
}
