import { createReadStream } from "node:fs";
import { join } from "node:path";
import { UserError } from "../../../errors.ts";
import { GATHERED_BYTES, MOST_COLUMNS, megabytes } from "../limits.ts";
import type { ExportToOpen, OpenTable } from "../open-table.ts";
import { TableWriter } from "../table-writer.ts";
import { textOf } from "../text-of.ts";
import { columnPath } from "./column-path.ts";
import { type FlatRecord, flattenRecord, JsonFault } from "./flatten-record.ts";
import { ListSplitter, OutlineFault } from "./list-splitter.ts";
import { recordsPath } from "./records-path.ts";

/**
 * Writes the records of a JSON or NDJSON export as a text table, one at a time, whatever the size of the file. Columns come in the order
 * in which they first appear. With `records: "cards[].slots"` each element of the inner list is a record: its columns are named from the
 * list on (`slots.part`), those of its card as they are; a card without such a list, or with an empty one, is one record.
 */
export async function openJson(wanted: ExportToOpen, scratch: string): Promise<OpenTable> {
  const { shownPath, reading } = wanted;
  const { path } = await textOf(wanted, scratch);
  const csvPath = join(scratch, "records.csv");
  const writer = await TableWriter.open(csvPath, shownPath);
  const table = new RecordTable(wanted, writer);
  try {
    await readInto(path, table, () => writer.flush());
  } catch (error) {
    throw error instanceof OutlineFault ? outlineFault(wanted, error) : error;
  } finally {
    await writer.close();
  }
  return {
    csvPath,
    delimiter: ",",
    header: writer.records === 0 ? named(wanted.wanted) : table.header,
    above: 0,
    headerRecords: 0,
    blanks: [],
    broken: [],
    ...(table.nested.rows.length === 0 ? {} : { nested: table.nested }),
    records: writer.records,
    quotedNewlines: writer.quotedNewlines,
    reading,
  };
}

type Feed = { feed: (text: string) => void; end: () => void };

async function readInto(path: string, table: RecordTable, after: () => Promise<void>): Promise<void> {
  const feed: Feed = table.isLines ? new LineSplitter((text, line) => table.add(text, line)) : table.splitter();
  const decoder = new TextDecoder();
  for await (const chunk of createReadStream(path, { highWaterMark: 1 << 18 })) {
    feed.feed(decoder.decode(chunk as Buffer, { stream: true }));
    await after();
  }
  feed.end();
  if (table.isLines && table.isEmpty) throw new OutlineFault("it holds nothing but blanks", 1);
}

/** Each line is a record; empty ones are none. */
class LineSplitter implements Feed {
  private readonly onLine: (text: string, line: number) => void;
  private line = 1;
  private carried = "";

  constructor(onLine: (text: string, line: number) => void) {
    this.onLine = onLine;
  }

  feed(text: string): void {
    const lines = text.split("\n");
    lines[0] = this.carried + lines[0]!;
    this.carried = lines.pop()!;
    for (const line of lines) this.take(line);
    if (this.carried.length > GATHERED_BYTES)
      throw new OutlineFault("the line is longer than a record may be", this.line);
  }

  end(): void {
    this.take(this.carried);
  }

  private take(text: string): void {
    if (text.trim() !== "") this.onLine(text, this.line);
    this.line++;
  }
}

class RecordTable {
  readonly isLines: boolean;
  readonly header: string[] = [];
  readonly nested = { rows: [] as number[], columns: [] as string[] };
  private readonly clashing = new Set<number>();
  private readonly wanted: ExportToOpen;
  private readonly writer: TableWriter;
  private readonly ways: string[][];
  private readonly columns = new Map<string, number>();

  constructor(wanted: ExportToOpen, writer: TableWriter) {
    const { reading, shownPath } = wanted;
    this.wanted = wanted;
    this.writer = writer;
    this.isLines = reading.format === "ndjson";
    const ways = recordsPath(reading.records, shownPath);
    // A line is a record already: only lists inside it are left to go to.
    this.ways = this.isLines && ways[0]!.length > 0 ? [[], ...ways] : ways;
  }

  splitter(): Feed {
    const list = new ListSplitter(this.ways[0]!, (text, line) => this.add(text, line));
    return { feed: (text) => list.feed(text), end: () => this.endList(list) };
  }

  get isEmpty(): boolean {
    return this.writer.records === 0;
  }

  /** Adds the records that lie in the text of one. */
  add(text: string, line: number): void {
    if (!/^\s*\{/.test(text)) throw this.fault(line, this.notAnObject(text));
    this.flatten([], text, line, 0, "");
  }

  private flatten(outer: FlatRecord["cells"], text: string, line: number, level: number, column: string): void {
    const inner = this.ways[level + 1];
    const { cells, elements = [] } = this.read(text, line, { column, inner });
    const all = [...outer, ...cells];
    const below = inner?.reduce(columnPath, column) ?? "";
    for (const element of elements) this.flatten(all, element, line, level + 1, below);
    if (elements.length === 0) this.write(all);
  }

  private read(text: string, line: number, where: { column: string; inner: string[] | undefined }): FlatRecord {
    try {
      return flattenRecord(text, { ...where, decimalMark: this.wanted.reading.decimalMark });
    } catch (error) {
      if (!(error instanceof JsonFault)) throw error;
      const faultLine = line + (text.slice(0, error.at).match(/\n/g)?.length ?? 0);
      throw this.fault(faultLine, error.message);
    }
  }

  private write(cells: FlatRecord["cells"]): void {
    const row: string[] = [];
    const taken = new Set<number>();
    let clashes = false;
    for (const [name, text] of cells) {
      const column = this.columnOf(name, taken);
      taken.add(column);
      clashes ||= text !== "" && this.clashing.has(column);
      while (row.length < column) row.push("");
      row[column] = text;
    }
    this.writer.add(row, this.writer.records + 1);
    if (clashes) this.nested.rows.push(this.writer.records);
  }

  /** A name that a record has twice is two columns of that name. */
  private columnOf(name: string, taken: Set<number>): number {
    for (let nth = 0; ; nth++) {
      const key = nth === 0 ? name : `${name}\0${nth}`;
      const column = this.columns.get(key) ?? this.newColumn(key, name);
      if (!taken.has(column)) return column;
    }
  }

  private newColumn(key: string, name: string): number {
    if (this.header.length >= MOST_COLUMNS) {
      throw new UserError(
        `Cannot read ${this.wanted.shownPath}: record ${this.writer.records + 1} brings its columns over ${MOST_COLUMNS.toLocaleString("en-US")}, as if names were values; write them as values, or name the list of records with "records" in its pipeline`,
      );
    }
    this.columns.set(key, this.header.length);
    if (this.wanted.wanted.flat().some((column) => clashesWith(String(column), name))) {
      this.clashing.add(this.header.length);
      this.nested.columns.push(name);
    }
    return this.header.push(name.trim()) - 1;
  }

  private endList(list: ListSplitter): void {
    list.end();
    if (list.found) return;
    const { records } = this.wanted.reading;
    const lists = [...list.lists].map((way) => `"${way}"`).join(", ");
    const there = lists === "" ? "there is no list in it" : `lists are at ${lists}`;
    throw new UserError(
      records === undefined
        ? `Cannot read ${this.wanted.shownPath}: it is one object, not a list of records; say with "records" in its pipeline where they are (${there})`
        : `Cannot read ${this.wanted.shownPath}: it has no list at ${JSON.stringify(records)}, which "records" in its pipeline names; ${there}`,
    );
  }

  private notAnObject(text: string): string {
    const list = this.isLines && this.writer.records === 0 && /^\s*\[/.test(text);
    return list
      ? 'a list begins there, not a record; set "format: json" in its pipeline if the whole file is one list'
      : `${shown(text)} is not an object with named values`;
  }

  private fault(line: number, what: string): UserError {
    const { shownPath } = this.wanted;
    const record = this.writer.records + 1;
    return new UserError(
      `Cannot read ${shownPath}: line ${line}, record ${record}: ${what}; correct it there, or export the file again`,
    );
  }
}

function outlineFault({ shownPath, reading }: ExportToOpen, { message, line }: OutlineFault): UserError {
  const lines = message.startsWith("something stands after") && reading.format === "json";
  if (message.startsWith("it ")) {
    return new UserError(
      `Cannot read ${shownPath} as ${reading.format}: ${message}, line ${line}; ${remedyOf(message)}`,
    );
  }
  const remedy = lines
    ? 'set "format: ndjson" in its pipeline if each line is a record, or export it again'
    : message.includes("longer than")
      ? `records may have ${megabytes(GATHERED_BYTES)}; name the list of records with "records" in its pipeline, or export it again`
      : "correct it there, or export the file again";
  return new UserError(`Cannot read ${shownPath}: line ${line}: ${message}; ${remedy}`);
}

function remedyOf(message: string): string {
  return message.startsWith("it begins")
    ? 'set the "format" that it has in its pipeline, or export it again'
    : 'export it again, or take it out of "files"';
}

/** Whether one is a value inside the other: then a record with the one has nothing to show for the other. */
function clashesWith(wanted: string, found: string): boolean {
  const inside = (inner: string, outer: string) =>
    inner.length > outer.length &&
    inner.startsWith(outer) &&
    (inner[outer.length] === "." || inner[outer.length] === "[");
  return inside(found, wanted) || inside(wanted, found);
}

/** A list without records has no columns to name: those that are wanted stand there, without a row. */
function named(wanted: (string | number)[][]): string[] {
  const names = wanted.flatMap(([first]) => (typeof first === "string" ? [first.trim()] : []));
  const places = wanted.flatMap(([first]) => (typeof first === "number" ? [first] : []));
  const distinct = [...new Set(names)];
  return Array.from({ length: Math.max(distinct.length, ...places) }, (_, index) => distinct[index] ?? "");
}

function shown(text: string): string {
  const start = text.trim().slice(0, 40);
  return JSON.stringify(start.length < text.trim().length ? `${start}...` : start);
}
