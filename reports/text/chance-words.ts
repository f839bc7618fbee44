/**
 * The chance of so great a difference where there is none; small ones are not written out.
 * @example chanceWords(0.0321); // "p = 0.032"
 */
export function chanceWords(p: number): string {
  return p < 0.001 ? "p\u00a0<\u00a00.001" : `p\u00a0=\u00a0${Number(p.toPrecision(2))}`;
}
