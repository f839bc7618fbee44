import type { PickKind } from "../charts/picking.ts";

/** Heads of the columns that name one of a kind; where there is none, rows are named by the first cell of tables that have such a row. */
const HEADS: Partial<Record<PickKind, string[]>> = {
  unit: ["Frame", "Unit"],
  position: ["Position"],
  slot: ["Slot"],
  fleet: ["Fleet"],
  mode: ["Damage mode"],
  group: ["Model", "Site"],
  part: ["Part"],
};

const PICKED = "is-picked";

type Marked = {
  rows: number;
  /** Where the name of what is picked leads to, in one of the rows. */
  page: string | null;
};

/** Marks the rows of tables that are about all that is picked and named in them, and unmarks the others. */
export function markRows(tables: Iterable<HTMLTableElement>, picked: ReadonlyMap<PickKind, string>): Marked {
  const marked: Marked = { rows: 0, page: null };
  for (const table of tables) {
    const wanted = [...picked]
      .map(([kind, value]) => ({ value, columns: columnsOf(table, kind, value) }))
      .filter(({ columns }) => columns.length > 0);
    for (const row of table.tBodies[0]?.rows ?? []) {
      const cells = wanted.map(({ value, columns }) => columns.map((at) => row.cells[at]).find(named(value)));
      const isPicked = cells.length > 0 && cells.every((cell) => cell !== undefined);
      row.classList.toggle(PICKED, isPicked);
      if (!isPicked) continue;
      marked.rows++;
      marked.page ??= cells[0]?.querySelector("a")?.getAttribute("href") ?? null;
    }
  }
  return marked;
}

function named(value: string) {
  return (cell: HTMLTableCellElement | undefined) => cell?.textContent === value;
}

function columnsOf(table: HTMLTableElement, kind: PickKind, value: string): number[] {
  const heads = HEADS[kind];
  if (heads === undefined) {
    return [...(table.tBodies[0]?.rows ?? [])].some(({ cells }) => named(value)(cells[0])) ? [0] : [];
  }
  return [...(table.tHead?.rows[0]?.cells ?? [])].flatMap((cell, at) =>
    heads.includes(cell.textContent ?? "") ? [at] : [],
  );
}
