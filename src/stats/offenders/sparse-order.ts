/** Symmetric pattern of a matrix: of each row, the other rows with which it has an entry. */
export type Neighbours = Int32Array[];

/**
 * An order of elimination that keeps a symmetric sparse matrix sparse: the row with fewest neighbours (nearly, among what is left) goes
 * next. Rows eliminated stand for the cliques that they make, and a clique within another is dropped.
 * @see P. R. Amestoy, T. A. Davis & I. S. Duff, SIAM J. Matrix Anal. Appl. 17 (1996) 886-905
 */
export function sparseOrder(neighbours: Neighbours): Int32Array {
  const size = neighbours.length;
  const left = neighbours.map((rows) => new Set(rows));
  const cliques: (Int32Array | null)[] = new Array(size).fill(null);
  const cliquesOf: Set<number>[] = neighbours.map(() => new Set());
  const queue = new DegreeQueue(neighbours.map(({ length }) => length));
  const order = new Int32Array(size);
  const mark = new Int32Array(size).fill(-1);
  for (let step = 0; step < size; step++) {
    const pivot = queue.take();
    order[step] = pivot;
    const clique = membersOf(pivot, { left, cliques, cliquesOf, mark });
    const absorbed = cliquesOf[pivot]!;
    cliques[pivot] = clique;
    for (const row of clique) {
      forget(left[row]!, (other) => mark[other] === pivot);
      forget(cliquesOf[row]!, (one) => absorbed.has(one));
      cliquesOf[row]!.add(pivot);
      queue.move(row, Math.min(degreeOf(row, { left, cliques, cliquesOf }), size - step - 2));
    }
  }
  return order;
}

function forget(numbers: Set<number>, isGone: (number: number) => boolean): void {
  for (const number of numbers) if (isGone(number)) numbers.delete(number);
}

/** Rows that it is joined to, those in several of its cliques counted as often. */
function degreeOf(row: number, { left, cliques, cliquesOf }: Omit<Elimination, "mark">): number {
  let degree = left[row]!.size;
  for (const clique of cliquesOf[row]!) degree += (cliques[clique]?.length ?? 1) - 1;
  return degree;
}

type Elimination = { left: Set<number>[]; cliques: (Int32Array | null)[]; cliquesOf: Set<number>[]; mark: Int32Array };

/** Rows that eliminating the pivot joins, each marked with it. */
function membersOf(pivot: number, { left, cliques, cliquesOf, mark }: Elimination): Int32Array {
  const members: number[] = [];
  mark[pivot] = pivot;
  const add = (row: number) => {
    if (mark[row] === pivot) return;
    mark[row] = pivot;
    members.push(row);
  };
  for (const row of left[pivot]!) add(row);
  for (const clique of cliquesOf[pivot]!) for (const row of cliques[clique] ?? []) add(row);
  for (const clique of cliquesOf[pivot]!) cliques[clique] = null;
  return Int32Array.from(members);
}

/** Rows by degree, in lists. */
class DegreeQueue {
  readonly #lists: Set<number>[] = [];
  readonly #degree: Int32Array;
  #least = 0;

  constructor(degrees: number[]) {
    this.#degree = Int32Array.from(degrees);
    for (const [row, degree] of degrees.entries()) this.#listOf(degree).add(row);
  }

  #listOf(degree: number): Set<number> {
    while (this.#lists.length <= degree) this.#lists.push(new Set());
    return this.#lists[degree]!;
  }

  /** Takes a row of least degree. */
  take(): number {
    while (this.#lists[this.#least]!.size === 0) this.#least++;
    const list = this.#lists[this.#least]!;
    const [row = 0] = list;
    list.delete(row);
    return row;
  }

  move(row: number, degree: number): void {
    const bounded = Math.max(degree, 0);
    this.#lists[this.#degree[row]!]!.delete(row);
    this.#listOf(bounded).add(row);
    this.#degree[row] = bounded;
    this.#least = Math.min(this.#least, bounded);
  }
}
