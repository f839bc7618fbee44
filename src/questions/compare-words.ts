/** A measured value, which may be a year or a speed: three digits, four from a thousand on, none of them set apart. */
export function valueWords(value: number): string {
  return String(Number(value.toPrecision(Math.abs(value) < 1000 ? 3 : 4)));
}
