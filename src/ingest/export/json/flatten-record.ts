import { MOST_NESTED } from "../limits.ts";
import { columnPath } from "./column-path.ts";

/** What is wrong in a record's JSON, and how far into its text. */
export class JsonFault extends Error {
  override readonly name = "JsonFault";
  readonly at: number;
  constructor(message: string, at: number) {
    super(message);
    this.at = at;
  }
}

export type FlatRecord = {
  /** Columns and their texts, in the order of the record; a key that stands twice comes twice. */
  cells: [column: string, text: string][];
  /** The JSON of each element of the inner list; none where the record has no such list. */
  elements?: string[];
};

export type Flattening = {
  /** Column of the record itself: "" for a whole record, the list's for an element of one. */
  column: string;
  /** Keys to a list inside the record whose elements are records too. */
  inner: string[] | undefined;
  decimalMark: "." | ",";
};

/**
 * A JSON value as cells. Numbers keep the figures that they are written with, texts stay as they are, `null` is a blank; empty lists and
 * objects give no cells. NaN and Infinity, which some programs write, are taken as words.
 * @throws JsonFault if the text is no JSON (RFC 8259)
 */
export function flattenRecord(text: string, how: Flattening): FlatRecord {
  return new RecordReader(text, how).read();
}

const BLANKS = /[ \t\r\n]*/y;
const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const WORD = /true|false|null|NaN|-?Infinity/y;

class RecordReader {
  private readonly text: string;
  private readonly start: string;
  private readonly inner: string | undefined;
  private readonly comma: boolean;
  private readonly found: FlatRecord = { cells: [] };
  private at = 0;

  constructor(text: string, { column, inner, decimalMark }: Flattening) {
    this.text = text;
    this.start = column;
    this.inner = inner?.reduce(columnPath, column);
    this.comma = decimalMark === ",";
  }

  read(): FlatRecord {
    this.value(this.start, 0);
    this.blanks();
    if (this.at < this.text.length) throw this.fault("text after the end of the record");
    return this.found;
  }

  private value(column: string, depth: number): void {
    this.blanks();
    const code = this.text[this.at];
    if (depth > MOST_NESTED) throw this.fault(`lists and objects lie over ${MOST_NESTED} deep in each other`);
    if (code === "{") this.object(column, depth);
    else if (code === "[") this.list(column, depth);
    else if (code === '"') this.found.cells.push([column, this.string()]);
    else this.scalar(column);
  }

  private object(column: string, depth: number): void {
    this.each("}", () => {
      const key = this.string();
      this.blanks();
      if (this.text[this.at] !== ":") throw this.fault('no ":" after a key');
      this.at++;
      this.value(columnPath(column, key), depth + 1);
    });
  }

  private list(column: string, depth: number): void {
    if (column === this.inner) {
      this.found.elements = [...(this.found.elements ?? []), ...this.elements(depth)];
      return;
    }
    let place = 0;
    this.each("]", () => this.value(`${column}[${place++}]`, depth + 1));
  }

  /** The elements of the inner list are cut out, to be flattened each by itself. */
  private elements(depth: number): string[] {
    const outer = this.found.cells.length;
    const elements: string[] = [];
    this.each("]", () => {
      this.blanks();
      const from = this.at;
      this.value(`${this.start}[]`, depth + 1);
      elements.push(this.text.slice(from, this.at));
    });
    this.found.cells.length = outer;
    return elements;
  }

  /** Members up to the closing bracket, with commas between. */
  private each(end: "}" | "]", member: () => void): void {
    this.at++;
    this.blanks();
    if (this.text[this.at] === end) {
      this.at++;
      return;
    }
    for (;;) {
      this.blanks();
      member();
      this.blanks();
      const mark = this.text[this.at];
      if (mark !== "," && mark !== end) throw this.fault(`no "," or "${end}" after a value`);
      this.at++;
      if (mark === end) return;
    }
  }

  private string(): string {
    if (this.text[this.at] !== '"') throw this.fault("no text in quotes");
    const end = this.endOfText();
    const whole = this.text.slice(this.at, end);
    const text = whole.includes("\\") ? unescaped(whole) : whole.slice(1, -1);
    if (text === undefined) throw this.fault("an escape in a text is none of JSON's");
    this.at = end;
    return text;
  }

  /** Behind the quote that closes a text: the first one with an even number of backslashes before it. */
  private endOfText(): number {
    for (let end = this.text.indexOf('"', this.at + 1); end >= 0; end = this.text.indexOf('"', end + 1)) {
      let backslashes = 0;
      while (this.text[end - 1 - backslashes] === "\\") backslashes++;
      if (backslashes % 2 === 0) return end + 1;
    }
    throw this.fault("a text is not closed");
  }

  private scalar(column: string): void {
    const number = this.take(NUMBER);
    const word = this.take(WORD);
    if (number !== undefined) this.found.cells.push([column, this.comma ? number.replace(".", ",") : number]);
    else if (word !== undefined) this.found.cells.push([column, word === "null" ? "" : word]);
    else throw this.fault("no value");
  }

  private take(pattern: RegExp): string | undefined {
    pattern.lastIndex = this.at;
    const found = pattern.exec(this.text)?.[0];
    if (found !== undefined) this.at += found.length;
    return found;
  }

  private blanks(): void {
    const code = this.text.charCodeAt(this.at);
    if (code > 0x20) return;
    BLANKS.lastIndex = this.at;
    BLANKS.test(this.text);
    this.at = Math.max(this.at, BLANKS.lastIndex);
  }

  private fault(message: string): JsonFault {
    const here = this.text.slice(this.at, this.at + 20);
    return new JsonFault(here === "" ? `${message}, but the end` : `${message} at ${JSON.stringify(here)}`, this.at);
  }
}

/** Line ends and tabs that stand in a text as they are, which JSON does not allow, are kept. */
function unescaped(quoted: string): string | undefined {
  try {
    // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
    const escaped = quoted.replace(/[\0-\x1f]/g, (code) => `\\u${code.charCodeAt(0).toString(16).padStart(4, "0")}`);
    return JSON.parse(escaped) as string;
  } catch {
    return undefined;
  }
}
