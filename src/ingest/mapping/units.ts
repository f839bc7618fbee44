import type { FieldSource } from "../../workspace/pipeline.ts";
import type { Dimension } from "./canonical-fields.ts";

/** What a pipeline may declare, and units that go without saying. */
export type Unit = NonNullable<FieldSource["unit"]> | "pcs" | "each";

/** A value in a unit, times `times`, plus `plus` before it, over `over`: (value + plus) * times / over is in the stored unit. */
type Conversion = { dimension: Dimension; plus: number; times: number; over: number };

/**
 * Stored units: mm, deg C, h, r/min, kN, d, deg. Exact: 1 in = 25.4 mm, t/degC = (t/degF - 32) * 5/9, 1 lbf = 4.448 221 615 260 5 N
 * (NIST SP 811, appendix B).
 */
const CONVERSIONS: Record<Unit, Conversion> = {
  mm: { dimension: "length", plus: 0, times: 1, over: 1 },
  "0.01mm": { dimension: "length", plus: 0, times: 1, over: 100 },
  // Whole numbers, so that 7 thou is 0.1778 mm to the last bit.
  in: { dimension: "length", plus: 0, times: 254, over: 10 },
  thou: { dimension: "length", plus: 0, times: 254, over: 10_000 },
  um: { dimension: "length", plus: 0, times: 1, over: 1000 },
  C: { dimension: "temperature", plus: 0, times: 1, over: 1 },
  F: { dimension: "temperature", plus: -32, times: 5, over: 9 },
  h: { dimension: "hours", plus: 0, times: 1, over: 1 },
  d: { dimension: "hours", plus: 0, times: 24, over: 1 },
  rpm: { dimension: "speed", plus: 0, times: 1, over: 1 },
  kN: { dimension: "force", plus: 0, times: 1, over: 1 },
  N: { dimension: "force", plus: 0, times: 1, over: 1000 },
  lbf: { dimension: "force", plus: 0, times: 4.4482216152605, over: 1000 },
  deg: { dimension: "angle", plus: 0, times: 1, over: 1 },
  day: { dimension: "days", plus: 0, times: 1, over: 1 },
  wk: { dimension: "days", plus: 0, times: 7, over: 1 },
  pcs: { dimension: "pieces", plus: 0, times: 1, over: 1 },
  each: { dimension: "money", plus: 0, times: 1, over: 1 },
};

export const STORED_UNIT: Record<Dimension, Unit> = {
  length: "mm",
  temperature: "C",
  hours: "h",
  speed: "rpm",
  force: "kN",
  days: "day",
  angle: "deg",
  pieces: "pcs",
  money: "each",
};

/** Dimensions of which the unit goes without saying. */
export const SELF_EVIDENT: ReadonlySet<Dimension> = new Set(["hours", "speed", "days", "angle", "pieces", "money"]);

/** How people write a unit behind a number, in lower case. */
const SPELLINGS: Record<Unit, readonly string[]> = {
  mm: ["mm"],
  "0.01mm": ["0.01mm", "hundredths", "hundertstel"],
  in: ["in", "in.", "inch", "inches", '"', "″", "”", "''"],
  thou: ["thou", "thous", "mil", "mils"],
  um: ["um", "µm", "μm", "micron", "microns"], // both code points of mu
  C: ["c", "°c", "deg c", "degc"],
  F: ["f", "°f", "deg f", "degf"],
  h: ["h", "hr", "hrs", "hour", "hours", "hrs.", "std", "std.", "stunden", "heures", "horas"],
  d: ["d", "day", "days"],
  rpm: ["rpm", "r/min", "min-1"],
  kN: ["kn"],
  N: ["n"],
  lbf: ["lbf", "lb", "lbs"],
  deg: ["deg", "\u00b0"],
  day: ["d", "day", "days"],
  wk: ["wk", "wks", "week", "weeks"],
  pcs: ["pcs", "pc", "pieces", "off", "ea", "no"],
  each: ["each", "ea", "\u20ac", "eur", "$", "usd", "\u00a3", "gbp"],
};

/** The units of a dimension. */
export function unitsOf(dimension: Dimension): Unit[] {
  return (Object.keys(CONVERSIONS) as Unit[]).filter((unit) => CONVERSIONS[unit].dimension === dimension);
}

/** The spellings of a unit as people write it behind a number. */
export function spellingsOf(unit: Unit): readonly string[] {
  return SPELLINGS[unit];
}

/** A value in the unit stored; the same arithmetic, in the same order, as `storedSql`. */
export function stored(value: number, unit: Unit): number {
  const { plus, times, over } = CONVERSIONS[unit];
  return ((value + plus) * times) / over;
}

/** SQL that brings `expression`, a DOUBLE in `unit`, to the unit stored. */
export function storedSql(expression: string, unit: Unit): string {
  const { plus, times, over } = CONVERSIONS[unit];
  const moved = plus === 0 ? expression : `(${expression} + (${plus}))`;
  const scaled = times === 1 ? moved : `${moved} * ${times}::double`;
  return over === 1 ? scaled : `${scaled} / ${over}::double`;
}
