import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { fingerprint } from "../../../src/ingest/export/fingerprint.ts";
import { exportsFolder, keepExport, openKept, unpackExport } from "../../../src/ingest/export/kept-export.ts";
import { readRows } from "../../../src/ingest/export/read-rows.ts";
import { ExportsAtHand } from "./exports-at-hand.ts";
import { bookBytes, rowXml } from "./workbook-bytes.ts";

let exports: ExportsAtHand;
beforeAll(async () => {
  exports = await ExportsAtHand.make();
});
afterAll(() => exports.close());

const text = 'Title\n\nCard,Frame\nC1,"a\nb"\n\nC2,SM2,beyond\n';
const sheet =
  rowXml(1, ["Title"]) + rowXml(3, ["Card", "Frame"]) + rowXml(4, ["C1", "a\nb"]) + rowXml(6, ["C2", "SM2", "beyond"]);

describe("a kept export", () => {
  it.each([
    { name: "csv", content: text, beyond: "beyond 1" },
    { name: "csv", content: gzipSync(text), beyond: "beyond 1" },
    { name: "xlsx", content: bookBytes({ sheets: [{ name: "Cards", rows: sheet }] }), beyond: "column 3" },
  ] as const)("($name) opens again with the same rows by the same numbers", async ({ name, content, beyond }) => {
    const storePath = join(exports.folder, "store", "framelife.duckdb");
    const source = await exports.open(`cards.${name}`, content, { format: name, wanted: [["Card"], ["Frame"]] });
    expect(source).toMatchObject({ above: 1, headerRecords: 1, blanks: [2, 5] });
    const path = join(exports.folder, `cards.${name}`);
    const { sha256 } = await fingerprint(path);
    await keepExport(path, exportsFolder(storePath), sha256);
    const { reading } = source;
    await source.close();
    rmSync(path);

    const kept = await openKept(
      storePath,
      { sha256, shownPath: `cards.${name}`, reading: JSON.parse(JSON.stringify(reading)) },
      exports.scratch,
    );
    expect(kept).toMatchObject({ header: source.header, above: 1, headerRecords: 1, blanks: [2, 5] });
    const rows = await readRows(exports.store.connection, kept, [6, 1, 2, 4, 99]);
    expect(rows.get(4)?.slice(0, 2)).toEqual([
      { header: "Card", cell: "C1" },
      { header: "Frame", cell: "a\nb" },
    ]);
    expect(rows.get(6)).toEqual([
      { header: "Card", cell: "C2" },
      { header: "Frame", cell: "SM2" },
      { header: beyond, cell: "beyond" },
    ]);
    expect(rows.get(1)?.[0]).toEqual({ header: "Card", cell: "Title" });
    expect(rows.get(2)).toEqual([]);
    expect(rows.has(99)).toBe(false);
    await kept.close();
    expect(readdirSync(exports.scratch)).toEqual([]);
  });

  it("opens as it was packed before, by gzip, and is not kept twice", async () => {
    const path = join(exports.folder, "before.csv");
    const folder = join(exports.folder, "store-before", "exports");
    writeFileSync(path, text);
    const { sha256 } = await fingerprint(path);
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, `${sha256}.gz`), gzipSync(text));
    await keepExport(path, folder, sha256);
    expect(readdirSync(folder)).toEqual([`${sha256}.gz`]);
    await unpackExport(folder, sha256, "before.csv", join(exports.folder, "unpacked.csv"));
    expect(readFileSync(join(exports.folder, "unpacked.csv"), "utf8")).toBe(text);
  });

  it("is read where the store's own engine may read no files", async () => {
    const source = await exports.open("cards.csv", "Card\nC1\n");
    const other = await ExportsAtHand.make();
    await other.store.connection.run("set enable_external_access = false");
    expect(await readRows(other.store.connection, source, [2])).toEqual(
      new Map([[2, [{ header: "Card", cell: "C1" }]]]),
    );
    other.close();
    await source.close();
  });

  it("that is gone says what to do", async () => {
    const reading = { format: "csv", encoding: "utf-8", delimiter: ",", decimalMark: "." } as const;
    await expect(
      openKept(
        join(exports.folder, "none", "s.duckdb"),
        { sha256: "0", shownPath: "cards.csv", reading },
        exports.scratch,
      ),
    ).rejects.toThrow("its kept copy");
    expect(readdirSync(exports.scratch)).toEqual([]);
  });
});
