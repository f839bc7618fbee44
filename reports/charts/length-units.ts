import type { LengthUnit } from "../../src/questions/overview-types.ts";

const MM_PER: Record<LengthUnit, number> = { mm: 1, in: 25.4, thou: 0.0254, um: 0.001 }; // exact: NIST SP 811, appendix B

/** A length in another unit; the same unit gives the same digits. */
export function inUnit(value: number, from: LengthUnit, to: LengthUnit): number {
  return from === to ? value : (value * MM_PER[from]) / MM_PER[to];
}
