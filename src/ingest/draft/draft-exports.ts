import { existsSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { join } from "node:path";
import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../../errors.ts";
import type { EngineUse } from "../../store/engine.ts";
import { fileFault } from "../export/file-fault.ts";
import type { OpenExport } from "../export/open-export.ts";
import { chosenSheets } from "../export/sheets.ts";
import type { RecordKind } from "../mapping/canonical-fields.ts";
import type { TableProfile } from "./column-profile.ts";
import { groupsOf } from "./conventions.ts";
import type { Draft } from "./draft.ts";
import { draftPipeline } from "./draft-pipeline.ts";
import type { FleetContext } from "./guess-fleet.ts";
import { guessMarks } from "./guess-marks.ts";
import type { Answers, Question } from "./opinion.ts";
import { loadCells, profileTable } from "./profile-table.ts";
import { keepUnits, sharedUnits } from "./shared-units.ts";
import { formatOf, openSniffed, type SniffedExport, sniffExport } from "./sniff-export.ts";

/** A file to draft from: where it lies, what messages call it, and how a pipeline is to name it. */
export type ExportFile = { path: string; shownPath: string; name: string; sheets?: (string | number)[] };

/** A table of one file, or of one sheet of a workbook. */
type Part = SniffedExport & {
  file: ExportFile;
  sheet?: string /** The only sheet. */;
  alone: boolean;
  open: OpenExport;
};

/** Files and sheets with the same header that write alike: one pipeline. */
export type Kind = { parts: Part[]; files: ExportFile[]; sheets?: string[] };

export type Aside = { shownPath: string; why: string };

/** What a kind of export is drafted with beside its own cells. */
export type KindRequest = {
  name: string;
  fleet: FleetContext;
  slots?: string[];
  answers: Answers;
  record?: RecordKind;
};

/** Exports opened and sorted by kind; close it, for it holds temporary copies. */
export class ExportKinds {
  readonly kinds: Kind[] = [];
  /** Sheets that hold no table. */
  readonly aside: Aside[] = [];
  private readonly connection: DuckDBConnection;
  private readonly scratch: string;
  private readonly engine: EngineUse;
  private readonly profiles = new Map<Kind, TableProfile>();

  constructor(connection: DuckDBConnection, scratch: string, engine: EngineUse = {}) {
    this.connection = connection;
    this.scratch = scratch;
    this.engine = engine;
  }

  /** @throws UserError if a file can't be read */
  async add(files: ExportFile[]): Promise<void> {
    const parts: Part[] = [];
    for (const file of files)
      parts.push(...(await this.partsOf(file).catch((error: unknown) => Promise.reject(unreadable(file, error)))));
    for (const kind of sorted(parts)) this.kinds.push(...(await this.apart(kind)));
  }

  /** @throws UserError if the table is of no record kind */
  async draft(kind: Kind, request: KindRequest): Promise<Draft> {
    const table = await this.load(kind);
    const first = kind.parts[0]!;
    const draft = await draftPipeline(this.connection, table, {
      ...request,
      files: kind.files.map(({ name }) => name),
      ...(kind.sheets === undefined ? {} : { sheets: kind.sheets }),
      reading: { ...first.reading, ...commonReading(kind) },
      evidence: first.evidence,
      ...(first.open.dateSystem === undefined ? {} : { dateSystem: first.open.dateSystem }),
    });
    await keepUnits(this.connection, draft, kind.parts.map(nameOf));
    return draft;
  }

  /** What to ask of frames that stand in several of the exports drafted so far. */
  async shared(): Promise<Map<Kind, Question[]>> {
    const asked = new Map<Kind, Question[]>();
    for (const { file, question } of await sharedUnits(this.connection)) {
      const kind = this.kinds.find(({ parts }) => parts.some((part) => nameOf(part) === file));
      if (kind !== undefined) asked.set(kind, [...(asked.get(kind) ?? []), question]);
    }
    return asked;
  }

  async close(): Promise<void> {
    for (const { parts } of this.kinds) for (const { open } of parts) await open.close();
  }

  /** Files of one header that write their days or lengths differently are kinds of their own. */
  private async apart(kind: Kind): Promise<Kind[]> {
    if (kind.files.length < 2) return [kind];
    const table = await this.load(kind);
    const places = kind.files.map(({ path }) => kind.parts.flatMap(({ file }, at) => (file.path === path ? [at] : [])));
    const groups = await groupsOf(this.connection, table, places);
    if (groups.length === 1) return [kind];
    return groups.map((group) => {
      const files = group.map((index) => kind.files[index]!);
      return { ...kind, files, parts: kind.parts.filter(({ file }) => files.includes(file)) };
    });
  }

  /** The cells in the engine, and their profile. */
  private async load(kind: Kind): Promise<TableProfile> {
    const header = kind.parts[0]!.open.header;
    const size = await loadCells(
      this.connection,
      kind.parts.map(({ open }) => open),
    );
    const known = this.profiles.get(kind);
    if (known !== undefined) return known;
    const plain = await profileTable(this.connection, header, size, { decimal_mark: "." });
    const marks = guessMarks(plain.columns).value;
    const isPlain = marks.decimal_mark === "." && marks.thousands_mark === undefined;
    const profile = isPlain ? plain : await profileTable(this.connection, header, size, marks);
    this.profiles.set(kind, profile);
    return profile;
  }

  private async partsOf(file: ExportFile): Promise<Part[]> {
    const { format } = await formatOf(file.path, file.shownPath);
    if (format !== "xlsx") return [await this.partOf(file, undefined, true)];
    const all = await chosenSheets(file.path, file.shownPath, ["*"]);
    const chosen = file.sheets === undefined ? all : await chosenSheets(file.path, file.shownPath, file.sheets);
    const parts: Part[] = [];
    for (const sheet of chosen) {
      try {
        parts.push(await this.partOf(file, sheet, all.length === 1));
      } catch (error) {
        if (!(error instanceof UserError) || chosen.length === 1) throw error;
        this.aside.push({ shownPath: `${file.shownPath}, sheet "${sheet}"`, why: error.message });
      }
    }
    return parts;
  }

  private async partOf(file: ExportFile, sheet: string | undefined, alone: boolean): Promise<Part> {
    const scratch = await mkdtemp(join(this.scratch, "sniffing-"));
    const wanted = { path: file.path, shownPath: file.shownPath, ...(sheet === undefined ? {} : { sheet }) };
    try {
      const sniffed = await sniffExport(this.connection, wanted, scratch);
      const open = await openSniffed({ ...wanted, ...sniffed, scratch: this.scratch, engine: this.engine });
      if (open.header.length === 0) {
        await open.close();
        throw new UserError(
          `Cannot draft a pipeline for ${file.shownPath}: its records have no values; give an export in which some have`,
        );
      }
      return { ...sniffed, file, ...(sheet === undefined ? {} : { sheet }), alone, open };
    } finally {
      await rm(scratch, { recursive: true, force: true });
    }
  }
}

function unreadable({ path, shownPath }: ExportFile, error: unknown): unknown {
  if (existsSync(path)) return fileFault(shownPath, error);
  return new UserError(`Cannot read ${shownPath}: there is no such file; correct its name`, 1, { cause: error });
}

function nameOf({ file, sheet, alone }: Part): string {
  return sheet === undefined || alone ? file.name : `${file.name}, sheet "${sheet}"`;
}

/** Parts with the same header, read in the same way, in the order in which they came. */
function sorted(parts: Part[]): Kind[] {
  const perFile = new Map<string, Part[]>();
  for (const part of parts) {
    const key = JSON.stringify([part.file.path, keyOf(part)]);
    perFile.set(key, [...(perFile.get(key) ?? []), part]);
  }
  const kinds = new Map<string, Kind>();
  for (const [first, ...others] of perFile.values()) {
    if (first === undefined) continue;
    const own = [first, ...others];
    const sheets = own.flatMap(({ sheet, alone }) => (sheet === undefined || alone ? [] : [sheet]));
    const key = JSON.stringify([keyOf(first), sheets]);
    const kind = findKind(kinds, key, own);
    kind.parts.push(...own);
    kind.files.push(first.file);
    if (sheets.length > 0) kind.sheets = sheets;
  }
  return [...kinds.values()];
}

/** The kind with this key whose encoding reads these parts too; else a new one. */
function findKind(kinds: Map<string, Kind>, key: string, parts: Part[]): Kind {
  for (let turn = 0; ; turn++) {
    const name = `${key}${turn}`;
    const kind = kinds.get(name) ?? { parts: [], files: [] };
    kinds.set(name, kind);
    const encodings = new Set(
      [...kind.parts, ...parts].flatMap(({ ascii, reading }) => (ascii ? [] : [reading.encoding])),
    );
    if (encodings.size <= 1) return kind;
  }
}

function keyOf({ reading, open }: Part): unknown[] {
  const { format, delimiter, records, header } = reading;
  const rows = Array.isArray(header) && header.length === 1 ? "one" : (header ?? "");
  return [
    format,
    delimiter,
    records ?? "",
    rows,
    open.header.map((name) => name.replace(/\s+/g, " ").trim().toLowerCase()),
  ];
}

/** The encoding that reads all files, and the header's row where it is the same in all. */
function commonReading({ parts }: Kind): {
  encoding: SniffedExport["reading"]["encoding"];
  header?: "none" | number[];
} {
  const [first] = parts;
  const encoding = parts.find(({ ascii }) => !ascii)?.reading.encoding ?? first!.reading.encoding;
  const rows = new Set(parts.map(({ reading }) => JSON.stringify(reading.header)));
  const header = first!.reading.header;
  return rows.size > 1 || header === undefined ? { encoding, header: [1] } : { encoding, header };
}
