import { GATHERED_BYTES, MOST_NESTED } from "../limits.ts";

/** What is wrong in the JSON around the records. */
export class OutlineFault extends Error {
  override readonly name = "OutlineFault";
  readonly line: number;
  constructor(message: string, line: number) {
    super(message);
    this.line = line;
  }
}

const NEWLINE = 0x0a;
const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const COMMA = 0x2c;
const OPEN_OBJECT = 0x7b;
const CLOSE_OBJECT = 0x7d;
const OPEN_LIST = 0x5b;
const CLOSE_LIST = 0x5d;

type Frame = { list: boolean; isRecords: boolean; key: string; named: boolean };

/**
 * Cuts the elements of one list out of a JSON text that comes in pieces; only the element at hand is in memory. What lies around the list
 * is passed over. Ask `found` at the end.
 */
export class ListSplitter {
  /** Whether the list was there. */
  found = false;
  /** Ways to the lists that were seen, a few of them. */
  readonly lists = new Set<string>();
  private readonly way: string[];
  private readonly onRecord: (text: string, line: number) => void;
  private readonly frames: Frame[] = [];
  private line = 1;
  private begun = false;
  private needsComma = false;
  /** The element at hand, in pieces. */
  private pieces: string[] | undefined;
  private size = 0;
  private startLine = 1;
  private depth = 0;
  private inText = false;
  private afterBackslash = false;
  /** A text outside the records, for it may be a key. */
  private key = "";

  constructor(way: string[], onRecord: (text: string, line: number) => void) {
    this.way = way;
    this.onRecord = onRecord;
  }

  feed(text: string): void {
    for (let at = 0; at < text.length; ) {
      if (this.pieces !== undefined) at = this.gather(text, at);
      else if (this.inText) at = this.passText(text, at);
      else at = this.step(text, at);
    }
  }

  /** @throws OutlineFault if the text ends too early */
  end(): void {
    if (!this.begun) throw new OutlineFault("it holds nothing but blanks", this.line);
    if (this.frames.length > 0 || this.pieces !== undefined || this.inText) {
      throw new OutlineFault("it ends in the middle of its JSON: the file is cut off", this.line);
    }
  }

  /** One mark outside the records. */
  private step(text: string, at: number): number {
    const mark = text[at]!;
    if (mark === "\n") this.line++;
    if (/[\s]/.test(mark)) return at + 1;
    const frame = this.frames.at(-1);
    if (frame === undefined && this.begun) throw this.fault("something stands after the end of its JSON");
    if (mark === "]" || mark === "}") this.leave(mark, frame);
    else if (mark === ",") this.comma(frame);
    else if (mark === ":") {
      if (frame !== undefined) Object.assign(frame, { key: this.key, named: true });
    } else if (frame?.isRecords) return this.beginRecord(at);
    else this.value(mark, frame);
    return at + 1;
  }

  private value(mark: string, frame: Frame | undefined): void {
    if (frame === undefined && mark !== "[" && mark !== "{") throw this.fault("it begins with no list and no object");
    this.begun = true;
    if (mark === "[" || mark === "{") this.enter(mark);
    else if (mark === '"') {
      this.inText = true;
      this.key = "";
    }
  }

  private enter(mark: "[" | "{"): void {
    if (this.frames.length >= MOST_NESTED) throw this.fault(`lists and objects lie over ${MOST_NESTED} deep`);
    const keys = this.frames.every(({ list }) => !list) ? this.frames.map(({ key }) => key) : undefined;
    const isRecords = mark === "[" && keys !== undefined && same(keys, this.way);
    if (mark === "[" && keys !== undefined && this.lists.size < 8) this.lists.add(keys.join("."));
    if (isRecords && this.found) throw this.fault("the list of its records stands there twice");
    this.found ||= isRecords;
    this.needsComma = false;
    this.frames.push({ list: mark === "[", isRecords, key: "", named: false });
  }

  private leave(mark: "]" | "}", frame: Frame | undefined): void {
    if (frame === undefined || frame.list !== (mark === "]")) throw this.fault(`"${mark}" closes nothing`);
    this.frames.pop();
  }

  private comma(frame: Frame | undefined): void {
    if (frame?.isRecords && !this.needsComma) throw this.fault("a comma stands where a record should");
    this.needsComma = false;
    if (frame !== undefined) frame.named = false;
  }

  private passText(text: string, from: number): number {
    const at = this.endOfText(text, from);
    const frame = this.frames.at(-1);
    if (frame === undefined || frame.list || frame.named) return at;
    this.key += text.slice(from, this.inText ? at : at - 1);
    if (this.key.length > GATHERED_BYTES) throw this.fault("a key is longer than a record may be");
    if (!this.inText) this.key = unescapedKey(this.key);
    return at;
  }

  /** Behind the quote that closes the text at hand, or the end of the piece. */
  private endOfText(text: string, from: number): number {
    for (let at = from; at < text.length; at++) {
      const code = text.charCodeAt(at);
      if (code === NEWLINE) this.line++;
      if (this.afterBackslash) this.afterBackslash = false;
      else if (code === BACKSLASH) this.afterBackslash = true;
      else if (code === QUOTE) {
        this.inText = false;
        return at + 1;
      }
    }
    return text.length;
  }

  private beginRecord(at: number): number {
    if (this.needsComma) throw this.fault("no comma between two records");
    this.needsComma = true;
    this.pieces = [];
    this.size = 0;
    this.depth = 0;
    this.startLine = this.line;
    return at;
  }

  private gather(text: string, from: number): number {
    const end = this.endOfRecord(text, from);
    this.size += end.at - from;
    if (this.size > GATHERED_BYTES) throw new OutlineFault("a record is longer than one may be", this.startLine);
    this.pieces?.push(text.slice(from, end.at));
    if (end.ended) {
      const whole = this.pieces?.join("") ?? "";
      this.pieces = undefined;
      this.onRecord(whole, this.startLine);
    }
    return end.at;
  }

  /** Where the element at hand ends in this piece, if it does. */
  private endOfRecord(text: string, from: number): { at: number; ended: boolean } {
    for (let at = from; at < text.length; ) {
      if (this.inText) {
        at = this.endOfText(text, at);
        continue;
      }
      const code = text.charCodeAt(at);
      if (code === NEWLINE) this.line++;
      else if (code === QUOTE) this.inText = true;
      const last = this.weigh(code);
      if (last !== undefined) return { at: last === "inside" ? at + 1 : at, ended: true };
      at++;
    }
    return { at: text.length, ended: false };
  }

  /** Whether a mark ends the element at hand, and belongs to it. */
  private weigh(code: number): "inside" | "outside" | undefined {
    if (code === OPEN_OBJECT || code === OPEN_LIST) this.depth++;
    else if (code === COMMA) return this.depth === 0 ? "outside" : undefined;
    else if (code === CLOSE_OBJECT || code === CLOSE_LIST) {
      if (this.depth === 0) return "outside";
      this.depth--;
      return this.depth === 0 ? "inside" : undefined;
    }
    return undefined;
  }

  private fault(message: string): OutlineFault {
    return new OutlineFault(message, this.line);
  }
}

function same(one: string[], other: string[]): boolean {
  return one.length === other.length && one.every((key, index) => key === other[index]);
}

function unescapedKey(text: string): string {
  try {
    return JSON.parse(`"${text}"`) as string;
  } catch {
    return text;
  }
}
