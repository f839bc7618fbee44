import { type FileHandle, open } from "node:fs/promises";
import { UserError } from "../../errors.ts";
import { megabytes, RECORD_BYTES } from "./limits.ts";

const FLUSH_AT = 1 << 18;

/** Writes a text table, record by record; memory holds a quarter of a megabyte of it. */
export class TableWriter {
  /** Records written. */
  records = 0;
  /** A cell holds a line end. */
  quotedNewlines = false;
  private readonly file: FileHandle;
  private readonly shownPath: string;
  private text: string[] = [];
  private size = 0;

  private constructor(file: FileHandle, shownPath: string) {
    this.file = file;
    this.shownPath = shownPath;
  }

  static async open(path: string, shownPath: string): Promise<TableWriter> {
    return new TableWriter(await open(path, "w"), shownPath);
  }

  /** A record without a cell is written as one empty cell, for the reader passes over empty lines. */
  add(cells: readonly string[], number: number): void {
    let line = "";
    for (let index = 0; index < cells.length; index++) {
      const cell = cells[index]!;
      line += index === 0 ? "" : ",";
      line += /[",\r\n\0]|^\s|\s$/.test(cell) ? this.quoted(cell, number) : cell;
    }
    if (3 * line.length > RECORD_BYTES && Buffer.byteLength(line) > RECORD_BYTES) throw this.tooLong(number);
    this.text.push(line === "" ? '""' : line, "\n");
    this.size += line.length;
    this.records++;
  }

  private quoted(cell: string, number: number): string {
    if (cell.includes("\0")) {
      throw new UserError(
        `Cannot read ${this.shownPath}: a cell of record ${number} holds a zero character, which no text has; take it out there, or export it again`,
      );
    }
    this.quotedNewlines ||= /[\r\n]/.test(cell);
    return `"${cell.replaceAll('"', '""')}"`;
  }

  private tooLong(number: number): UserError {
    return new UserError(
      `Cannot read ${this.shownPath}: record ${number} is over ${megabytes(RECORD_BYTES)} long; take out of it what is no record, such as pictures, and export it again`,
    );
  }

  /** Writes out what has gathered, if it is much. */
  async flush(): Promise<void> {
    if (this.size >= FLUSH_AT) await this.write();
  }

  async close(): Promise<void> {
    try {
      await this.write();
    } finally {
      await this.file.close();
    }
  }

  private async write(): Promise<void> {
    await this.file.writeFile(this.text.join(""));
    this.text = [];
    this.size = 0;
  }
}
