/** A value as it was measured, which may be a year: no more than four digits, none of them set apart. */
export function valueWords(value: number): string {
  return String(Number(value.toPrecision(4)));
}
