import type { Slips } from "./export-format.ts";
import type { Random } from "./random.ts";
import type { Scenario } from "./scenario.ts";

/** Rows of an export before they are text; `fields` says what each column carries. */
export type Sheet = { header: string[]; fields: string[]; rows: string[][] };

type Faults = NonNullable<Scenario["records"]>["faults"];
type Fault = keyof Faults;
/** Changes the row in place, or gives the rows that shall stand for it. */
type Spoil = (row: string[], sheet: Sheet, slips: Slips, random: Random) => string[][] | undefined;

/** Cells that are now and then left empty, though the form asks for them. */
const LOST = ["lube", "fitter", "position", "hours_removed", "hours"];
const DATES = ["removed_on", "read_on"];

/** How real exports are spoilt: by the system that prints them, by the pen, and by the spreadsheet in between. */
const SPOILS: Record<Fault, Spoil> = {
  blank_line: (row) => [row.map(() => ""), row],
  repeated_header: (row, { header }) => [header, row],
  duplicate_row: (row) => [row, row],
  bad_date: (row, sheet, { dates }, random) => set(row, sheet, DATES, () => random.pick(dates)),
  wrong_order: (row, { fields }) => {
    const [removed, installed] = [fields.indexOf("removed_on"), fields.indexOf("installed_on")];
    [row[removed], row[installed]] = [row[installed]!, row[removed]!];
    return undefined;
  },
  unknown_word: (row, sheet, { words }, random) => set(row, sheet, ["reason"], () => random.pick(words)),
  foreign_unit: (row, sheet, { foreign }) => set(row, sheet, ["end_play"], foreign),
  own_unit: (row, sheet, { own }) => set(row, sheet, ["end_play"], own),
  extra_cell: (row) => [[...row, "see file"]],
  stray_blanks: (row, sheet) => set(row, sheet, ["unit"], (cell) => `  ${cell.toLowerCase()} `),
  lost_cell: (row, sheet, _, random) => {
    const held = LOST.filter((field) => sheet.fields.includes(field));
    return set(row, sheet, [random.pick(held)], () => "");
  },
};

/** The columns that a fault needs, and needs something in. */
const NEEDS: Partial<Record<Fault, string[]>> = {
  wrong_order: ["removed_on", "installed_on"],
  unknown_word: ["reason"],
  foreign_unit: ["end_play"],
  own_unit: ["end_play"],
};

function set(row: string[], { fields }: Sheet, names: string[], change: (cell: string) => string): undefined {
  const at = fields.findIndex((field) => names.includes(field));
  if (at >= 0) row[at] = change(row[at] ?? "");
  return undefined;
}

/**
 * Spoils a sheet at the declared shares of its rows, no row twice.
 * @returns the rows to print, and how many of each fault there are
 */
export function spoilRows(
  sheet: Sheet,
  faults: Faults,
  slips: Slips,
  random: Random,
): { rows: string[][]; planted: Partial<Record<Fault, number>> } {
  const turns = sheet.rows.map((_, index) => ({ index, turn: random.uniform() })).sort((a, b) => a.turn - b.turn);
  const free = turns.map(({ index }) => index);
  const chosen = new Map<number, Fault>();
  const planted: Partial<Record<Fault, number>> = {};
  for (const fault of Object.keys(SPOILS) as Fault[]) {
    const wanted = faults[fault] === 0 ? 0 : Math.max(1, Math.round(faults[fault] * sheet.rows.length));
    for (let n = 0; n < wanted; n++) {
      const at = free.findIndex((index) => fits(fault, sheet, index));
      if (at === -1) break;
      chosen.set(free.splice(at, 1)[0]!, fault);
      planted[fault] = (planted[fault] ?? 0) + 1;
    }
  }
  const rows = sheet.rows.flatMap((clean, index) => {
    const fault = chosen.get(index);
    if (fault === undefined) return [clean];
    const row = [...clean];
    return SPOILS[fault](row, sheet, slips, random) ?? [row];
  });
  return { rows, planted };
}

function fits(fault: Fault, { fields, rows }: Sheet, index: number): boolean {
  const row = rows[index]!;
  const cells = (NEEDS[fault] ?? []).map((field) => row[fields.indexOf(field)] ?? "");
  // Two dates that are the same can't be in the wrong order.
  return cells.every((cell) => cell !== "") && (fault !== "wrong_order" || cells[0] !== cells[1]);
}
