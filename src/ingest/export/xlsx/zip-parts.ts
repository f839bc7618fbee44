import type { Readable } from "node:stream";
import yauzl, { type Entry, type ZipFile } from "yauzl";
import { UserError } from "../../../errors.ts";
import { fileFault } from "../file-fault.ts";
import { MOST_PARTS, megabytes, mostUnpacked } from "../limits.ts";

/** What a workbook that can't be read is, and what to do. */
export function damagedWorkbook(shownPath: string, what: string, cause?: unknown): UserError {
  return new UserError(
    `Cannot read ${shownPath}: the workbook is damaged or cut off (${what}); copy it from where it came, or open it in a spreadsheet and save it again`,
    1,
    { cause },
  );
}

/** The parts of a workbook, unpacked as they are read. */
export class ZipParts {
  private readonly zip: ZipFile;
  private readonly entries: Map<string, Entry>;
  private readonly shownPath: string;
  private unpacked = 0;

  private constructor(zip: ZipFile, entries: Map<string, Entry>, shownPath: string) {
    this.zip = zip;
    this.entries = entries;
    this.shownPath = shownPath;
  }

  /** @throws UserError if the file is no whole zip file */
  static async open(path: string, shownPath: string): Promise<ZipParts> {
    let zip: ZipFile;
    try {
      zip = await yauzl.openPromise(path, { autoClose: false });
    } catch (error) {
      throw zipFault(shownPath, error);
    }
    try {
      return new ZipParts(zip, await entriesOf(zip, shownPath), shownPath);
    } catch (error) {
      zip.close();
      throw zipFault(shownPath, error);
    }
  }

  /** Names of parts don't depend on case (ECMA-376, part 2). */
  has(name: string): boolean {
    return this.entries.has(name.toLowerCase());
  }

  /** @throws UserError if the part isn't there, is damaged, or becomes far larger than its packed size tells */
  async *read(name: string): AsyncGenerator<Buffer> {
    const entry = this.entries.get(name.toLowerCase());
    if (entry === undefined) throw damagedWorkbook(this.shownPath, `its part ${name} is missing`);
    if (entry.isEncrypted()) {
      throw new UserError(
        `Cannot read ${this.shownPath}: it is locked by a password; save it without one, and read that copy`,
      );
    }
    const most = mostUnpacked(entry.compressedSize);
    let bytes = 0;
    try {
      const stream: Readable = await this.zip.openReadStreamPromise(entry);
      for await (const chunk of stream) {
        bytes += (chunk as Buffer).length;
        this.unpacked += (chunk as Buffer).length;
        if (bytes > most) throw this.tooLarge(name, most);
        if (this.unpacked > mostUnpacked(this.zip.fileSize)) throw this.tooLarge(name, mostUnpacked(this.zip.fileSize));
        yield chunk as Buffer;
      }
    } catch (error) {
      throw zipFault(this.shownPath, error);
    }
  }

  close(): void {
    this.zip.close();
  }

  private tooLarge(name: string, most: number): UserError {
    return new UserError(
      `Cannot read ${this.shownPath}: unpacked, its part ${name} goes over ${megabytes(most)}, far more than a workbook of its packed size; save it as CSV if you trust it, and read that`,
    );
  }
}

async function entriesOf(zip: ZipFile, shownPath: string): Promise<Map<string, Entry>> {
  const entries = new Map<string, Entry>();
  if (zip.entryCount > MOST_PARTS) {
    throw damagedWorkbook(shownPath, `${zip.entryCount.toLocaleString("en-US")} parts, no workbook has as many`);
  }
  for await (const entry of zip.eachEntry()) entries.set(entry.fileName.toLowerCase(), entry);
  return entries;
}

/** Whatever a zip or its packed data have wrong; faults of the system as theirs. */
function zipFault(shownPath: string, error: unknown): unknown {
  const fault = fileFault(shownPath, error);
  if (fault instanceof UserError || !(error instanceof Error) || error instanceof TypeError) return fault;
  return damagedWorkbook(shownPath, error.message, error);
}
