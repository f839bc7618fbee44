import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { csvText } from "./csv-text.ts";
import { yearOf } from "./day.ts";
import type { CardRow, Column, ExportFormat } from "./export-format.ts";
import { formatOf } from "./formats/format-of.ts";
import type { CardRecord, FleetRecords } from "./records.ts";
import type { Scenario } from "./scenario.ts";
import { type Sheet, spoilRows } from "./spoil-rows.ts";
import type { World } from "./world.ts";

/** Faults that hit lists and rounds too: those that cost a row at most, never a unit. */
const LIST_FAULTS = ["blank_line", "duplicate_row", "stray_blanks", "bad_date"] as const;

/** A file as written: its path below the output folder, its rows of data, and the faults planted in it. */
export type WrittenFile = { path: string; rows: number; planted: Record<string, number> };

/** Writes a fleet's records as its owner's exports, below `out`/exports/FLEET. */
export async function writeExports(world: World, records: FleetRecords, out: string): Promise<WrittenFile[]> {
  const { scenario, plan } = world;
  const format = formatOf(plan);
  const folder = join("exports", plan.name);
  await mkdir(join(out, folder), { recursive: true });
  const written: WrittenFile[] = [];
  for (const { file, sheet, closing } of sheets(world, format, records)) {
    const path = join(folder, file);
    const faults = faultsFor(scenario, file, format);
    const spoilt = faults
      ? spoilRows(sheet, faults, format.slips, world.random("spoil", file))
      : { rows: sheet.rows, planted: {} };
    const rows = [sheet.header, ...spoilt.rows, ...(closing ? [closing] : [])];
    const text = (format.byteOrderMark ? "\uFEFF" : "") + csvText(rows, format);
    await writeFile(join(out, path), Buffer.from(text, format.encoding));
    written.push({ path: path.replaceAll("\\", "/"), rows: sheet.rows.length, planted: spoilt.planted });
  }
  return written;
}

function faultsFor({ records }: Scenario, file: string, format: ExportFormat) {
  if (records === undefined || file === format.units?.file || file === format.retirements?.file) return undefined;
  if (file === format.reissuedFile) return undefined;
  if (file !== format.readings?.file) return records.faults;
  const none = Object.fromEntries(Object.keys(records.faults).map((fault) => [fault, 0])) as typeof records.faults;
  for (const fault of LIST_FAULTS) none[fault] = records.faults[fault];
  return none;
}

type Planned = { file: string; sheet: Sheet; closing: string[] | null };

function sheets(world: World, format: ExportFormat, records: FleetRecords): Planned[] {
  const slots = Object.keys(world.scenario.slots);
  const columns = format.cards(slots);
  const lay = (cards: CardRecord[]) =>
    sheetOf(
      columns,
      cards.flatMap((card): CardRow[] => (format.long ? slots : slots.slice(0, 1)).map((slot) => ({ card, slot }))),
    );
  const planned = cardFiles(world, format, records.cards).map(({ file, cards }): Planned => {
    const sheet = lay(cards.map((card) => records.firstWritten.get(card.number) ?? card));
    return { file, sheet, closing: format.closing?.(cards.length) ?? null };
  });
  if (records.firstWritten.size > 0) {
    const sheet = lay(records.cards.filter(({ number }) => records.firstWritten.has(number)));
    planned.push({ file: format.reissuedFile, sheet, closing: null });
  }
  const add = <Row>(table: { file: string; columns: Column<Row>[] } | null, rows: Row[]) => {
    // Nobody exports an empty list.
    if (table && rows.length > 0)
      planned.push({ file: table.file, sheet: sheetOf(table.columns, rows), closing: null });
  };
  add(format.units, records.units);
  add(format.readings, records.readings);
  add(format.retirements, records.retirements);
  return planned;
}

function cardFiles(world: World, format: ExportFormat, cards: CardRecord[]): { file: string; cards: CardRecord[] }[] {
  const [first, last] = [yearOf(world.recordsBegin), yearOf(world.asOf)];
  const step = format.yearsAFile === 0 ? last - first + 1 : format.yearsAFile;
  const files: { file: string; cards: CardRecord[] }[] = [];
  for (let from = first; from <= last; from += step) {
    const to = Math.min(last, from + step - 1);
    const within = cards.filter(({ receivedOn }) => yearOf(receivedOn) >= from && yearOf(receivedOn) <= to);
    files.push({ file: format.cardFile(from, to), cards: within });
  }
  return files;
}

function sheetOf<Row>(columns: Column<Row>[], rows: Row[]): Sheet {
  return {
    header: columns.map(({ header }) => header),
    fields: columns.map(({ field }) => field),
    rows: rows.map((row) => columns.map(({ text }) => text(row))),
  };
}
