/**
 * Pairs rows with columns, each at most once, so that the sum of the scores is greatest: the Hungarian method with potentials, O(n^2 m).
 * @param scores - one list a row; 0 and less: no pair
 * @returns per row its column, -1 where none
 */
export function bestAssignment(scores: number[][]): number[] {
  const rows = scores.length;
  const width = scores[0]?.length ?? 0;
  if (rows === 0 || width === 0) return scores.map(() => -1);
  if (rows > width) return turned(scores, width);
  // Columns of no value, one a row, so that a row may stay alone.
  const cost = scores.map((row) => [...row.map((score) => -Math.max(0, score)), ...scores.map(() => 0)]);
  const columns = width + rows;
  const rowPotential = new Float64Array(rows + 1);
  const columnPotential = new Float64Array(columns + 1);
  const rowOf = new Int32Array(columns + 1);
  for (let row = 1; row <= rows; row++) augment({ cost, columns, rowPotential, columnPotential, rowOf }, row);
  const chosen = scores.map(() => -1);
  for (let column = 1; column <= width; column++) {
    const row = rowOf[column]! - 1;
    if (row >= 0 && scores[row]![column - 1]! > 0) chosen[row] = column - 1;
  }
  return chosen;
}

/** The shorter side goes first: the work grows with its square. */
function turned(scores: number[][], width: number): number[] {
  const rowOfColumn = bestAssignment(Array.from({ length: width }, (_, column) => scores.map((row) => row[column]!)));
  const chosen = scores.map(() => -1);
  for (const [column, row] of rowOfColumn.entries()) if (row >= 0) chosen[row] = column;
  return chosen;
}

type State = {
  cost: number[][];
  columns: number;
  rowPotential: Float64Array;
  columnPotential: Float64Array;
  rowOf: Int32Array;
};

/** Gives one more row its column, moving others along the cheapest path. */
function augment(state: State, row: number): void {
  const { columns, rowOf } = state;
  const least = new Float64Array(columns + 1).fill(Number.POSITIVE_INFINITY);
  const before = new Int32Array(columns + 1);
  const used = new Uint8Array(columns + 1);
  rowOf[0] = row;
  let column = 0;
  do {
    used[column] = 1;
    column = nextColumn(state, { least, before, used }, column);
  } while (rowOf[column] !== 0);
  while (column !== 0) {
    const previous = before[column]!;
    rowOf[column] = rowOf[previous]!;
    column = previous;
  }
}

type Search = { least: Float64Array; before: Int32Array; used: Uint8Array };

function nextColumn(state: State, { least, before, used }: Search, at: number): number {
  const { cost, columns, rowPotential, columnPotential, rowOf } = state;
  const row = rowOf[at]!;
  let [next, delta] = [0, Number.POSITIVE_INFINITY];
  for (let column = 1; column <= columns; column++) {
    if (used[column] === 1) continue;
    const reduced = cost[row - 1]![column - 1]! - rowPotential[row]! - columnPotential[column]!;
    if (reduced < least[column]!) {
      least[column] = reduced;
      before[column] = at;
    }
    if (least[column]! < delta) [next, delta] = [column, least[column]!];
  }
  for (let column = 0; column <= columns; column++) {
    if (used[column] === 1) {
      rowPotential[rowOf[column]!]! += delta;
      columnPotential[column]! -= delta;
    } else least[column]! -= delta;
  }
  return next;
}
