import type { NumberKind } from "./number-format.ts";
import { numberText } from "./number-text.ts";
import { serialDate, serialTime } from "./serial-date.ts";
import { unescaped } from "./shared-strings.ts";

/** A cell as it stands in a sheet's XML. */
export type RawCell = {
  type: string;
  style: number;
  /** Undefined where the cell has none. */
  value: string | undefined;
  formula: string | undefined;
};

/** What the cells of a sheet are read by. */
export type CellRules = {
  strings: string[];
  kinds: NumberKind[];
  dateSystem: 1900 | 1904;
  decimalMark: "." | ",";
};

/**
 * A cell as text. Of a formula it is the value that the spreadsheet had last worked out; nothing is worked out here, and where none was
 * kept it is the formula's own text.
 */
export function cellText({ type, style, value, formula }: RawCell, rules: CellRules): string | undefined {
  if (value === undefined || (value === "" && type !== "str" && type !== "inlineStr")) {
    return formula === undefined ? "" : `=${formula}`;
  }
  switch (type) {
    case "s":
      return rules.strings[Number(value)];
    case "b":
      return value === "0" || value === "false" ? "FALSE" : "TRUE";
    case "d":
      return isoText(value);
    case "e":
      return value;
    case "str":
    case "inlineStr":
      return unescaped(value);
    default:
      return numeric(value, rules.kinds[style] ?? "number", rules);
  }
}

function numeric(raw: string, kind: NumberKind, { dateSystem, decimalMark }: CellRules): string {
  const value = Number(raw);
  if (kind === "number" || !Number.isFinite(value)) return numberText(raw, decimalMark);
  if (kind === "span" || (kind === "time" && value >= 0 && value < 1)) return serialTime(value);
  if (typeof kind === "object") {
    const digits = Number.isInteger(value) && value >= 0 ? numberText(raw, decimalMark) : undefined;
    return digits === undefined ? numberText(raw, decimalMark) : digits.padStart(kind.figures, "0");
  }
  return serialDate(value, dateSystem) ?? numberText(raw, decimalMark);
}

/** A date that the workbook keeps as text, ISO 8601: the time left out where it is midnight. */
function isoText(value: string): string {
  const [, day, time] = /^(\d{4}-\d{2}-\d{2})(?:T(\d{2}:\d{2}:\d{2})(?:\.0*)?Z?)?$/.exec(value) ?? [];
  if (day === undefined) return value;
  return time === undefined || time === "00:00:00" ? day : `${day} ${time}`;
}
