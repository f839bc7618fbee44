/** Units that lengths are written and shown in. */
export const LENGTH_UNITS = ["mm", "in", "thou", "um"] as const;
export type LengthUnit = (typeof LENGTH_UNITS)[number];

/** Millimetres in a unit, exact: NIST SP 811, appendix B (1 in = 25.4 mm). */
export const MM_PER: Record<LengthUnit, number> = { mm: 1, in: 25.4, thou: 0.0254, um: 0.001 };

/** The ends of a window in another unit, without what converting them leaves in the last digits. */
export function windowIn(
  { low, high, unit }: { low: number; high: number; unit: LengthUnit },
  to: LengthUnit,
): { low: number; high: number } {
  const end = (value: number) => Number(inUnit(value, unit, to).toPrecision(12));
  return { low: end(low), high: end(high) };
}

/** A length in another unit; the same unit gives the same digits. */
export function inUnit(value: number, from: LengthUnit, to: LengthUnit): number {
  return from === to ? value : (value * MM_PER[from]) / MM_PER[to];
}
