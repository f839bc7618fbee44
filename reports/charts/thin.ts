/**
 * Thins rows that are in the order of `along` to what a picture can show: of each of `columns` equal strips the first
 * and the last row stay, so a step curve keeps its shape and both its ends.
 * @returns the same array where nothing had to go
 */
export function thin<Row>(rows: Row[], along: (row: Row) => number, columns = 300): Row[] {
  const first = rows[0];
  const last = rows.at(-1);
  if (first === undefined || last === undefined || rows.length <= 2 * columns) return rows;
  const from = along(first);
  const width = (along(last) - from) / columns || 1;
  const strip = (row: Row) => Math.min(columns - 1, Math.floor((along(row) - from) / width));
  return rows.filter((row, index) => {
    const before = rows[index - 1];
    const after = rows[index + 1];
    return before === undefined || after === undefined || strip(before) !== strip(row) || strip(after) !== strip(row);
  });
}
