import { existsSync } from "node:fs";
import { join } from "node:path";
import { UserError } from "../../errors.ts";
import { fault, readHandTable } from "../hand-table.ts";
import { CANONICAL_FIELDS, type RecordKind, SLOT_FIELDS } from "../mapping/canonical-fields.ts";
import type { Known } from "../mapping/field-plan.ts";
import { nearest } from "../mapping/nearest.ts";
import { CORRECTION_COLUMNS, type Correction, type CorrectionRow, type Corrections } from "./correction.ts";
import { readYamlRows } from "./read-yaml-rows.ts";

export const CORRECTIONS_FILES = ["corrections.csv", "corrections.yaml"] as const;

/**
 * The corrections of the workspace in `folder`; none without a file.
 * @throws UserError with line and remedy if a line can't be meant so, or both files are there
 */
export async function readCorrections(
  folder: string,
  known: Pick<Known, "fleets" | "slots">,
): Promise<Corrections | undefined> {
  const there = CORRECTIONS_FILES.filter((name) => existsSync(join(folder, name)));
  if (there.length > 1) {
    throw new UserError(`Cannot tell which corrections count: ${folder} has ${there.join(" and ")}; keep one of them`);
  }
  const name = there[0];
  if (name === undefined) return undefined;
  const path = join(folder, name);
  const rows = name === "corrections.yaml" ? readYamlRows(path, name) : await csvRows(path, name);
  const lines = rows.map((row) => checked(row, name, known));
  refuseTwice(lines, name);
  return { name, lines };
}

async function csvRows(path: string, name: string): Promise<CorrectionRow[]> {
  return (await readHandTable(path, name, CORRECTION_COLUMNS)).rows;
}

function checked({ line, cells }: CorrectionRow, name: string, known: Pick<Known, "fleets" | "slots">): Correction {
  const wrong = (found: string) => fault(name, line, found);
  const record = recordOf(cells.record, wrong);
  const { fleet, id, field, old, reason, by } = cells;
  if (fleet !== "" && !known.fleets.includes(fleet)) {
    throw wrong(`the workspace has no fleet "${fleet}"; its fleets are ${known.fleets.join(", ")}`);
  }
  const fields = correctable(record, known.slots);
  if (!fields.includes(field)) {
    throw wrong(`a ${record} has no field "${field}"; the nearest is "${nearest(field, fields)}"`);
  }
  const blank = (["id", "reason", "by"] as const).find((column) => cells[column] === "");
  if (blank !== undefined) throw wrong(`${blank} is blank; fill it in`);
  if (old === cells.new) throw wrong(`old and new are both "${old}"; write what is to stand there under new`);
  const because = `line ${line} of ${name}: ${reason} (${by})`;
  return { line, record, fleet, ...identified(record, id, wrong), field, old, new: cells.new, reason, by, because };
}

function recordOf(word: string, wrong: (found: string) => Error): RecordKind {
  const kinds = Object.keys(CANONICAL_FIELDS) as RecordKind[];
  const record = kinds.find((kind) => kind === word);
  if (record === undefined) throw wrong(`"${word}" is no record; records are ${kinds.join(", ")}`);
  return record;
}

/** The fields that have a cell of their own; those of a slot with its name. */
function correctable(record: RecordKind, slots: string[]): string[] {
  const own = Object.keys(CANONICAL_FIELDS[record]);
  if (record !== "rebuild") return own;
  return [...own, "slot", ...slots.flatMap((slot) => Object.keys(SLOT_FIELDS).map((key) => `${slot}.${key}`))];
}

function identified(
  record: RecordKind,
  id: string,
  wrong: (found: string) => Error,
): Pick<Correction, "id" | "place" | "day"> {
  if (record === "stock") return countOf(id, wrong);
  if (record !== "reading") return { id };
  const found = /^(.*\S)\s+(\S+)$/.exec(id);
  if (found === null) throw wrong(`a reading is told by its unit and its day, found "${id}"; write "UNIT YYYY-MM-DD"`);
  return { id: found[1]!, day: found[2]! };
}

/** "B1" is every count of the part, "B1 | main store" and "B1 | main store | 2024-12-01" those of a place, and of a day there. */
function countOf(text: string, wrong: (found: string) => Error): Pick<Correction, "id" | "place" | "day"> {
  const [id = "", place, day, ...more] = text.split("|").map((part) => part.trim());
  if (id === "" || place === "" || day === "" || more.length > 0) {
    throw wrong(
      `a count of stock is told by its part, place and day, found "${text}"; write "PART", "PART | PLACE" or "PART | PLACE | YYYY-MM-DD"`,
    );
  }
  return { id, ...(place === undefined ? {} : { place }), ...(day === undefined ? {} : { day }) };
}

function refuseTwice(lines: Correction[], name: string): void {
  const first = new Map<string, Correction>();
  for (const correction of lines) {
    const { record, id, place, day, field, fleet, line } = correction;
    const key = JSON.stringify([record, id, place, day, field]);
    const before = first.get(key);
    if (before !== undefined && (before.fleet === fleet || before.fleet === "" || fleet === "")) {
      throw fault(name, line, `${field} of ${id} is corrected in line ${before.line} too; keep one of them`);
    }
    first.set(key, correction);
  }
}
