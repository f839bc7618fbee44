import { createReadStream } from "node:fs";

/** A record's cells, and its number as a spreadsheet shows it: from 1, empty lines included. */
export type NumberedRecord = { number: number; cells: string[] };

/**
 * The records of a delimited UTF-8 text, cell by cell, by the same rules as `scanRecords`; empty lines are left out, but counted.
 * Slow beside the engine's reader: for headers, and for files that readers take in different ways.
 */
export async function* parseRecords(path: string, delimiter: string): AsyncGenerator<NumberedRecord> {
  const parser = new RecordParser(delimiter);
  const decoder = new TextDecoder("utf-8"); // takes the byte order mark away
  for await (const chunk of createReadStream(path, { highWaterMark: 1 << 18 })) {
    yield* parser.feed(decoder.decode(chunk as Buffer, { stream: true }));
  }
  yield* parser.end();
}

type State = "start" | "unquoted" | "quoted" | "after quote";

class RecordParser {
  private readonly delimiter: string;
  private state: State = "start";
  private cell = "";
  private cells: string[] = [];
  private number = 1;
  private empty = true;
  private afterReturn = false;

  constructor(delimiter: string) {
    this.delimiter = delimiter;
  }

  *feed(text: string): Generator<NumberedRecord> {
    for (const character of text) {
      if (this.state === "quoted") this.inQuotes(character);
      else if (character === "\n" || character === "\r") {
        const doubled = character === "\n" && this.afterReturn;
        this.afterReturn = character === "\r";
        if (!doubled) yield* this.endRecord();
      } else this.outsideQuotes(character);
    }
  }

  *end(): Generator<NumberedRecord> {
    yield* this.endRecord();
  }

  private *endRecord(): Generator<NumberedRecord> {
    if (!this.empty) yield { number: this.number, cells: [...this.cells, this.cell] };
    this.number++;
    this.cells = [];
    this.startCell();
    this.empty = true;
  }

  private startCell(): void {
    this.cell = "";
    this.state = "start";
  }

  private inQuotes(character: string): void {
    if (character === '"') this.state = "after quote";
    else this.cell += character;
  }

  private outsideQuotes(character: string): void {
    this.afterReturn = false;
    this.empty = false;
    if (character === this.delimiter) {
      this.cells.push(this.cell);
      this.startCell();
    } else if (character === '"' && this.opensQuote()) {
      this.cell = this.state === "after quote" ? `${this.cell}"` : "";
      this.state = "quoted";
    } else this.inCell(character);
  }

  private opensQuote(): boolean {
    return this.state === "after quote" || (this.state === "start" && this.cell.trim() === "");
  }

  private inCell(character: string): void {
    const blank = character === " " || character === "\t";
    if (this.state === "after quote" && blank) {
      this.state = "unquoted";
      return;
    }
    this.cell += character;
    if (!(blank && this.state === "start")) this.state = "unquoted";
  }
}
