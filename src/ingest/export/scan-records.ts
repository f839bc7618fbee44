import { RECORD_BYTES } from "./limits.ts";
import { pieces } from "./pieces.ts";

/** Where the records of a delimited text lie; records are numbered from 1 as a spreadsheet shows them, empty lines included. */
export type Scan = {
  /** Records that hold anything, the header among them. */
  records: number;
  /** Numbers of the empty lines. */
  blanks: number[];
  /** Numbers of the records in which text follows a closing quote. */
  broken: number[];
  /** A quoted cell holds a line end. */
  quotedNewlines: boolean;
  /** Most cells of a record. */
  widest: number;
  /** First line of a record that is longer than one may be; what follows was not looked at. */
  tooLong?: number;
  /** Something that readers take in different ways (blanks around quotes, text after a quote, mixed line ends): rewrite before reading. */
  odd: boolean;
  /** A quote that opens on this line isn't closed, or runs on over lines to one that can't be its end. */
  openQuoteLine?: number;
};

const QUOTE = 0x22;
const NEWLINE = 0x0a;
const RETURN = 0x0d;
const SPACE = 0x20;
const TAB = 0x09;

const FIELD_START = 0;
const LEADING_BLANK = 1;
const UNQUOTED = 2;
const QUOTED = 3;
const AFTER_QUOTE = 4;
const AFTER_BLANK = 5;

const MARK = Buffer.from("\ufeff");

/**
 * Finds the records of a delimited text without cutting it into cells. A quote opens a cell at its start, blanks before it
 * passed over; a doubled quote inside is one; line feed, carriage return, or both together end a record outside quotes.
 * @param delimiter - one ASCII character
 */
export async function scanRecords(path: string, delimiter: string): Promise<Scan> {
  const scanner = new RecordScanner(delimiter.charCodeAt(0));
  let first = true;
  for await (const chunk of pieces(path)) {
    scanner.feed(first && chunk.subarray(0, MARK.length).equals(MARK) ? chunk.subarray(MARK.length) : chunk);
    first = false;
    if (scanner.ended) break;
  }
  scanner.end();
  return scanner.scan;
}

class RecordScanner {
  readonly scan: Scan = { records: 0, blanks: [], broken: [], quotedNewlines: false, widest: 0, odd: false };
  private readonly delimiter: number;
  private readonly stops: Uint8Array;
  private state = FIELD_START;
  private number = 1;
  private line = 1;
  private empty = true;
  private cells = 1;
  private startLine = 1;
  private size = 0;
  private quoteLine = 0;
  private afterReturn = false;
  private lineFeeds = 0;
  private returns = 0;
  private pairs = 0;

  constructor(delimiter: number) {
    this.delimiter = delimiter;
    this.stops = new Uint8Array(256);
    for (const byte of [delimiter, NEWLINE, RETURN]) this.stops[byte] = 1;
  }

  feed(chunk: Buffer): void {
    let start = 0;
    for (let at = 0; at < chunk.length; at++) {
      if (this.state === UNQUOTED) at = this.skipPlain(chunk, at);
      else if (this.state === QUOTED) at = this.skipQuoted(chunk, at);
      const byte = chunk[at];
      if (byte === undefined) break;
      if (this.take(byte)) start = at + 1;
      if (this.scan.openQuoteLine !== undefined) return;
    }
    this.measure(chunk.length - start);
  }

  /** Nothing that follows can be told apart. */
  get ended(): boolean {
    return this.scan.openQuoteLine !== undefined || this.scan.tooLong !== undefined;
  }

  end(): void {
    if (this.ended) return;
    if (this.state === QUOTED) {
      this.scan.openQuoteLine = this.quoteLine;
      return;
    }
    if (this.afterReturn) this.returns++;
    if (!this.empty) this.endRecord();
    const kinds = Number(this.lineFeeds > 0) + Number(this.pairs > 0) + Number(this.returns > 0);
    if (kinds > 1 || this.returns > 0) this.scan.odd = true;
  }

  private skipPlain(chunk: Buffer, from: number): number {
    let at = from;
    while (at < chunk.length && this.stops[chunk[at]!] === 0) at++;
    return at;
  }

  private skipQuoted(chunk: Buffer, from: number): number {
    let at = from;
    while (at < chunk.length && chunk[at] !== QUOTE) {
      if (chunk[at] === NEWLINE) this.line++;
      if (chunk[at] === NEWLINE || chunk[at] === RETURN) this.scan.quotedNewlines = true;
      at++;
    }
    return at;
  }

  /** A piece of a record that goes on in the next. */
  private measure(bytes: number): void {
    this.size += bytes;
    if (this.size > RECORD_BYTES) this.scan.tooLong = this.startLine;
  }

  private endRecord(): void {
    this.scan.records++;
    if (this.cells > this.scan.widest) this.scan.widest = this.cells;
  }

  /** Whether the byte ended a record. */
  private take(byte: number): boolean {
    if (this.state === QUOTED) {
      this.state = AFTER_QUOTE; // skipQuoted stopped at the quote
      return false;
    }
    if (byte === QUOTE && this.state === AFTER_QUOTE) {
      this.state = QUOTED;
      return false;
    }
    if (byte === NEWLINE || byte === RETURN) {
      this.lineEnd(byte);
      return true;
    }
    this.inRecord(byte);
    return false;
  }

  private lineEnd(byte: number): void {
    if (byte === NEWLINE) this.line++;
    if (byte === NEWLINE && this.afterReturn) {
      this.afterReturn = false;
      this.startLine = this.line;
      this.pairs++;
      return;
    }
    if (this.afterReturn) this.returns++;
    this.afterReturn = byte === RETURN;
    if (byte === NEWLINE) this.lineFeeds++;
    if (this.empty) this.scan.blanks.push(this.number);
    else this.endRecord();
    this.number++;
    this.empty = true;
    this.cells = 1;
    this.size = 0;
    this.startLine = this.line;
    this.state = FIELD_START;
  }

  private inRecord(byte: number): void {
    if (this.afterReturn) {
      this.afterReturn = false;
      this.returns++;
    }
    this.empty = false;
    if (byte === this.delimiter) {
      this.state = FIELD_START;
      this.cells++;
    } else if (this.state === AFTER_QUOTE || this.state === AFTER_BLANK) this.afterQuote(byte);
    else if (byte === QUOTE) this.openQuote();
    else this.state = byte === SPACE || byte === TAB ? LEADING_BLANK : UNQUOTED;
  }

  private openQuote(): void {
    if (this.state === LEADING_BLANK) this.scan.odd = true;
    this.quoteLine = this.line;
    this.state = QUOTED;
  }

  private afterQuote(byte: number): void {
    this.scan.odd = true;
    if (byte === SPACE || byte === TAB) {
      this.state = AFTER_BLANK;
      return;
    }
    // Over several lines this is a quote that was never closed: what it swallowed must not pass as one broken row.
    if (this.line > this.quoteLine) this.scan.openQuoteLine = this.quoteLine;
    if (this.scan.broken.at(-1) !== this.number) this.scan.broken.push(this.number);
    this.state = UNQUOTED;
  }
}
