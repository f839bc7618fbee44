import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { csvSource } from "../../../src/ingest/export/csv-source.ts";
import { fingerprint } from "../../../src/ingest/export/fingerprint.ts";
import { type ExportToOpen, type OpenExport, openExport } from "../../../src/ingest/export/open-export.ts";
import type { Reading } from "../../../src/ingest/export/reading.ts";
import { openMemory } from "../../../src/store/open-memory.ts";
import type { Store } from "../../../src/store/open-store.ts";

type How = Partial<Reading> & { wanted?: ExportToOpen["wanted"] };

/** Writes exports into a folder of its own and opens them. */
export class ExportsAtHand {
  readonly folder = mkdtempSync(join(tmpdir(), "framelife-exports-"));
  readonly scratch = join(this.folder, "scratch");
  readonly store: Store;

  private constructor(store: Store) {
    this.store = store;
    mkdirSync(this.scratch);
  }

  static async make(): Promise<ExportsAtHand> {
    return new ExportsAtHand(await openMemory());
  }

  close(): void {
    this.store.close();
    rmSync(this.folder, { recursive: true, force: true });
  }

  write(name: string, content: string | Buffer): string {
    const path = join(this.folder, name);
    writeFileSync(path, content);
    return path;
  }

  async open(name: string, content: string | Buffer, { wanted = [], ...how }: How = {}): Promise<OpenExport> {
    const path = this.write(name, content);
    const reading: Reading = { format: "csv", encoding: "utf-8", delimiter: ",", decimalMark: ".", ...how };
    return openExport({
      path,
      shownPath: name,
      reading,
      wanted,
      mark: await fingerprint(path, name),
      scratch: this.scratch,
    });
  }

  /** The records of the table as the engine reads them, as many cells as the header has; blanks as "". */
  async table(source: OpenExport): Promise<string[][]> {
    const read = await (await this.store.connection.run(`select * from ${csvSource(source)}`)).getRows();
    return read.map((row) => row.slice(0, source.header.length).map((cell) => String(cell ?? "")));
  }

  /** Header and the records below it. */
  async read(name: string, content: string | Buffer, how: How = {}): Promise<{ header: string[]; rows: string[][] }> {
    const source = await this.open(name, content, how);
    try {
      return { header: source.header, rows: (await this.table(source)).slice(source.above + source.headerRecords) };
    } finally {
      await source.close();
    }
  }
}
