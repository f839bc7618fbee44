import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterEach } from "vitest";
import { type IngestReport, ingest } from "../../src/ingest/ingest.ts";
import { openStore, type Store } from "../../src/store/open-store.ts";
import { rows } from "../../src/store/rows.ts";
import { readWorkspace } from "../../src/workspace/workspace.ts";

const CONFIGURATION = `
title: Quillhaven bearing-frame shop
fleets: [{ name: saltmere, title: Saltmere }, { name: ostrel, title: Ostrel }]
slots:
  drive_end_bearings: { title: Drive-end bearings, quantity: 2, kind: bearing }
  pump_end_bearing: { title: Pump-end bearing, quantity: 1, kind: bearing }
`;

const open: { folder: string; close: () => void }[] = [];
afterEach(() => {
  for (const { folder, close } of open.splice(0)) {
    close();
    rmSync(folder, { recursive: true, force: true });
  }
});

/** A workspace in a temporary folder, with its store open to write; both go after the test. */
export class ScratchWorkspace {
  readonly folder = mkdtempSync(join(tmpdir(), "framelife-ingest-"));
  private store: Store | undefined;
  private pipelines: string[] = [];
  private configuration = "";

  constructor(pipelines: Record<string, string>, files: Record<string, string | Buffer> = {}) {
    open.push({ folder: this.folder, close: () => this.store?.close() });
    for (const [name, text] of Object.entries(pipelines)) this.setPipeline(name, text);
    for (const [path, content] of Object.entries(files)) this.write(path, content);
  }

  setPipeline(name: string, text: string): void {
    if (!this.pipelines.includes(name)) this.pipelines.push(name);
    this.write(`pipelines/${name}.yaml`, text);
    this.writeConfiguration();
  }

  /** More lines of the configuration; in place of those said before. */
  configure(text: string): void {
    this.configuration = text;
    this.writeConfiguration();
  }

  private writeConfiguration(): void {
    this.write(
      "framelife.yaml",
      `${CONFIGURATION}\npipelines: [${this.pipelines.join(", ")}]\n${this.configuration}\n`,
    );
  }

  write(path: string, content: string | Buffer): void {
    mkdirSync(dirname(join(this.folder, path)), { recursive: true });
    writeFileSync(join(this.folder, path), content);
  }

  async connection(): Promise<Store["connection"]> {
    this.store ??= await openStore(join(this.folder, "store/framelife.duckdb"), "write");
    return this.store.connection;
  }

  /** Lets go of the store, so that another process can have it. */
  close(): void {
    this.store?.close();
    this.store = undefined;
  }

  async ingest(pipelines?: string[], more: { forget?: boolean } = {}): Promise<IngestReport> {
    const options = pipelines === undefined ? { today: "2024-12-31" } : { today: "2024-12-31", pipelines };
    return ingest(readWorkspace(this.folder), await this.connection(), { ...options, ...more });
  }

  async rows(sql: string): Promise<Record<string, unknown>[]> {
    return rows(await this.connection(), sql);
  }

  /** The rows as one text each, cells divided by "|": dates as YYYY-MM-DD, NULL as "-". */
  async lines(sql: string): Promise<string[]> {
    const found = await rows(await this.connection(), `select columns(*)::varchar from (${sql})`);
    return found.map((row) =>
      Object.values(row)
        .map((cell) => cell ?? "-")
        .join("|"),
    );
  }
}

/** A pipeline of wide cards with what most tests need; more lines may follow the fields. */
export const CARDS = `
title: Job cards
record: rebuild
files: exports/cards*.csv
fields:
  card: { column: Card }
  fleet: { value: saltmere }
  unit: { column: Frame }
  removed_on: { column: Out, dates: ["%d/%m/%Y"] }
  built_on: { column: Built, dates: ["%d/%m/%Y"] }
  hours_removed: { column: Meter }
  reason: { column: Why, words: { failed: failure, hours up: planned, "?": ~ } }
  end_play: { column: End play, unit: thou, low: 0.5, high: 20 }
slots:
  drive_end_bearings:
    fitted: { column: DE new, words: { Y: yes, N: no } }
    condition: { column: DE found, words: { bad: failed, good: serviceable } }
`;

export const CARD_HEADER = "Card,Frame,Out,Built,Meter,Why,End play,DE new,DE found";
