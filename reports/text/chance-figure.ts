/** A chance as a figure of a table: "0.034", "under 0.001"; a dash is the table's own for none. */
export function chanceFigure(chance: number | null): string | null {
  if (chance === null) return null;
  return chance < 0.001 ? "under 0.001" : String(Number(chance.toPrecision(2)));
}
