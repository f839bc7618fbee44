import { type Cells, tellingCells } from "./cells.ts";

/** Units and positions as the points of a graph, joined where a unit ran at a position. */
export type CrossedGraph = {
  /** Rows that join them. */
  cells: Uint32Array;
  /** Point of the unit, and of the position, of each of those rows. */
  first: Int32Array;
  second: Int32Array;
  /** Point of each unit and of each position; -1: in no row. */
  unitPoint: Int32Array;
  positionPoint: Int32Array;
  /** How many points are units; those of positions follow. */
  unitPoints: number;
  points: number;
  /** Of each point, the points that it is joined to. */
  neighbours: Int32Array[];
  /** Of each point, the number of its connected part. */
  component: Int32Array;
};

/** The graph of the rows in which something was expected. */
export function crossedGraph(all: Cells): CrossedGraph {
  const cells = tellingCells(all);
  const units = numbered(all.unit, cells, all.units, 0);
  const positions = numbered(all.position, cells, all.positions, units.next);
  const first = Int32Array.from(cells, (cell) => units.point[all.unit[cell]!]!);
  const second = Int32Array.from(cells, (cell) => positions.point[all.position[cell]!]!);
  const joined: number[][] = Array.from({ length: positions.next }, () => []);
  for (let at = 0; at < cells.length; at++) {
    joined[first[at]!]!.push(second[at]!);
    joined[second[at]!]!.push(first[at]!);
  }
  const neighbours = joined.map((points) => Int32Array.from(new Set(points)));
  const sizes = { unitPoints: units.next, points: positions.next };
  const component = componentsOf(neighbours);
  return {
    cells,
    first,
    second,
    unitPoint: units.point,
    positionPoint: positions.point,
    ...sizes,
    neighbours,
    component,
  };
}

function numbered(
  numbers: Int32Array,
  cells: Uint32Array,
  size: number,
  from: number,
): { point: Int32Array; next: number } {
  const point = new Int32Array(size).fill(-1);
  for (const cell of cells) point[numbers[cell]!] = 0;
  let next = from;
  for (let number = 0; number < size; number++) if (point[number] === 0) point[number] = next++;
  return { point, next };
}

function componentsOf(neighbours: Int32Array[]): Int32Array {
  const component = new Int32Array(neighbours.length).fill(-1);
  let number = 0;
  for (let start = 0; start < neighbours.length; start++) {
    if (component[start] !== -1) continue;
    component[start] = number;
    for (const open = [start]; open.length > 0; ) {
      for (const next of neighbours[open.pop()!]!) {
        if (component[next] !== -1) continue;
        component[next] = number;
        open.push(next);
      }
    }
    number++;
  }
  return component;
}
