import type { FieldSource } from "../../workspace/pipeline.ts";
import type { Dimension } from "./canonical-fields.ts";

export type Unit = NonNullable<FieldSource["unit"]>;

/** A value in a unit, times `times`, plus `plus` before it, over `over`: (value + plus) * times / over is in the stored unit. */
type Conversion = { dimension: Dimension; plus: number; times: number; over: number };

/** Stored units: mm, deg C, h, r/min. Exact: 1 in = 25.4 mm, t/degC = (t/degF - 32) * 5/9 (NIST SP 811, appendix B). */
const CONVERSIONS: Record<Unit, Conversion> = {
  mm: { dimension: "length", plus: 0, times: 1, over: 1 },
  in: { dimension: "length", plus: 0, times: 25.4, over: 1 },
  thou: { dimension: "length", plus: 0, times: 25.4, over: 1000 },
  um: { dimension: "length", plus: 0, times: 1, over: 1000 },
  C: { dimension: "temperature", plus: 0, times: 1, over: 1 },
  F: { dimension: "temperature", plus: -32, times: 5, over: 9 },
  h: { dimension: "hours", plus: 0, times: 1, over: 1 },
  d: { dimension: "hours", plus: 0, times: 24, over: 1 },
  rpm: { dimension: "speed", plus: 0, times: 1, over: 1 },
};

export const STORED_UNIT: Record<Dimension, Unit> = { length: "mm", temperature: "C", hours: "h", speed: "rpm" };

/** How people write a unit behind a number, in lower case. */
const SPELLINGS: Record<Unit, readonly string[]> = {
  mm: ["mm"],
  in: ["in", "in.", "inch", "inches", '"', "″", "”", "''"],
  thou: ["thou", "thous", "mil", "mils"],
  um: ["um", "µm", "μm", "micron", "microns"], // both code points of mu
  C: ["c", "°c", "deg c", "degc"],
  F: ["f", "°f", "deg f", "degf"],
  h: ["h", "hr", "hrs", "hour", "hours"],
  d: ["d", "day", "days"],
  rpm: ["rpm", "r/min", "min-1"],
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
