/** Units that lengths are written and shown in. */
export const LENGTH_UNITS = ["mm", "in", "thou", "um"] as const;
export type LengthUnit = (typeof LENGTH_UNITS)[number];

/** Millimetres in a unit, exact: NIST SP 811, appendix B (1 in = 25.4 mm). */
export const MM_PER: Record<LengthUnit, number> = { mm: 1, in: 25.4, thou: 0.0254, um: 0.001 };

/** A length in another unit; the same unit gives the same digits. */
export function inUnit(value: number, from: LengthUnit, to: LengthUnit): number {
  return from === to ? value : (value * MM_PER[from]) / MM_PER[to];
}
