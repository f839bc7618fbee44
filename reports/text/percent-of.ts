/** A level as words that no line break parts: "95 %". */
export function percentOf(level: number): string {
  return `${Number((100 * level).toPrecision(6))}\u00a0%`;
}
