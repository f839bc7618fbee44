import { cpSync, readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { describe, expect, it } from "vitest";
import type { FileAccount } from "../../src/ingest/accounts.ts";
import { ingest } from "../../src/ingest/ingest.ts";
import type { Truth } from "../../src/simulate/tell-truth.ts";
import { openStore } from "../../src/store/open-store.ts";
import type { FieldSource, Pipeline } from "../../src/workspace/pipeline.ts";
import { readWorkspace } from "../../src/workspace/workspace.ts";
import { sampleFolder } from "./sample.ts";
import { scratchFolder } from "./scratch-folder.ts";

const truth = JSON.parse(readFileSync(join(sampleFolder, "truth.json"), "utf8")) as Truth;
const exported = [...truth.fleets.flatMap(({ files }) => files), ...truth.shop_files];

function filesOf(folder: string): string[] {
  const entries = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  return entries.map((entry) => relative(folder, join(entry.parentPath, entry.name)).replaceAll("\\", "/")).sort();
}

const ENCODINGS = { "utf-8": "utf8", "latin-1": "latin1", "windows-1252": "latin1", "utf-16": "utf16le" } as const;

function headers(path: string, { encoding, delimiter = "," }: Pipeline): string[] {
  const [line = ""] = readFileSync(join(sampleFolder, path)).toString(ENCODINGS[encoding]).split(/\r?\n/);
  const cells = line.replace(/^\uFEFF/, "").match(new RegExp(`"[^"]*"|[^${delimiter}]+`, "g")) ?? [];
  return cells.map((cell) => cell.replaceAll('"', ""));
}

const columnsOf = (fields: Record<string, FieldSource>) =>
  Object.values(fields).flatMap(({ column }) => (column === undefined ? [] : [column].flat().map(String)));

describe("the sample workspace", () => {
  const workspace = readWorkspace(sampleFolder);

  it("has a line in its README for every file", () => {
    const readme = readFileSync(join(sampleFolder, "README.md"), "utf8");
    // A run in place makes a store and a report, which are no part of the sample.
    const files = filesOf(sampleFolder).filter((path) => !/^(README\.md$|\.|store\/|report\/)/.test(path));
    expect(files.length).toBeGreaterThanOrEqual(20);
    for (const path of files) expect(readme).toContain(`| \`${path}\` |`);
  });

  it("has every column that its pipelines name in the header of every export that they read", () => {
    const seen = new Set<string>();
    for (const { name, pipeline } of workspace.pipelines) {
      const globs = pipeline.files.map(
        (glob) => new RegExp(`^${glob.replaceAll(".", "\\.").replaceAll("*", "[^/]*")}$`),
      );
      const files = filesOf(sampleFolder).filter((path) => globs.some((glob) => glob.test(path)));
      expect(files.length, name).toBeGreaterThan(0);
      const named = [
        columnsOf(pipeline.fields),
        ...Object.values(pipeline.slots).map(columnsOf),
        pipeline.not_data.map(({ column }) => column),
      ];
      for (const path of files) {
        seen.add(path);
        expect(headers(path, pipeline), path).toEqual(expect.arrayContaining(named.flat()));
      }
    }
    expect([...seen].sort()).toEqual(exported.map(({ path }) => path).sort());
  });

  it("plants three offenders that fail 20 times or more by expectation, over several frames", () => {
    const offenders = truth.fleets.flatMap(({ offenders }) => offenders);
    expect(offenders).toHaveLength(3);
    for (const offender of offenders) {
      expect(offender.expected_failures).toBeGreaterThanOrEqual(20);
      expect(offender.expected_failures).toBeGreaterThan(
        2 * (offender.expected_failures_if_ordinary ?? Number.POSITIVE_INFINITY),
      );
      expect(offender.frames).toBeGreaterThanOrEqual(5);
    }
  });

  it("is read with just the faults that were planted in it, and no file above the limit", async () => {
    const folder = scratchFolder();
    for (const part of ["framelife.yaml", "exports"])
      cpSync(join(sampleFolder, part), join(folder, part), { recursive: true });
    const copy = readWorkspace(folder);
    const store = await openStore(copy.storePath, "write");
    try {
      const report = await ingest(copy, store.connection);
      expect(report.overLimit).toEqual([]);
      expect(report.files.map(found).sort((a, b) => (a.path < b.path ? -1 : 1))).toEqual(
        exported.map(planted).sort((a, b) => (a.path < b.path ? -1 : 1)),
      );
    } finally {
      store.close();
    }
  });
});

function found({ path, read, notData, quarantined, duplicate }: FileAccount) {
  return { path, read, notData, quarantined, duplicate };
}

/** What should be found: files of cards close with a total or a note, but for the corrected ones. */
function planted({ path, rows, planted: of }: (typeof exported)[number]): ReturnType<typeof found> {
  const count = (...faults: string[]) => faults.reduce((sum, fault) => sum + (of[fault] ?? 0), 0);
  const closes = /job-cards|karten-2|shop-tickets/.test(path) ? 1 : 0;
  const notData = count("blank_line", "repeated_header") + closes;
  const duplicate = count("duplicate_row");
  return {
    path,
    read: rows + notData + duplicate,
    notData,
    quarantined: count("bad_date", "wrong_order", "extra_cell"),
    duplicate,
  };
}
