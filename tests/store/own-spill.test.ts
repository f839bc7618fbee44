import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, dirname, join } from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import { removeOwnSpill } from "../../src/store/own-spill.ts";
import { spillFolder } from "../../src/store/spill-folder.ts";

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "framelife-spill-"));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

it("removeOwnSpill() takes away what all engines of this process put aside, and nothing else", () => {
  const made = [spillFolder(join(folder, "framelife.duckdb")), spillFolder(join(folder, "framelife.duckdb"))];
  for (const own of made) {
    mkdirSync(own);
    writeFileSync(join(own, "duckdb_temp_storage_DEFAULT-0.tmp"), "x");
  }
  const [first] = made;
  const others = [`other.${basename(first!)}`, basename(first!).replace(`-${process.pid}-`, `-${process.pid}1-`)];
  for (const name of others) mkdirSync(join(folder, name));
  writeFileSync(join(folder, "framelife.duckdb"), "");
  removeOwnSpill();
  expect(dirname(first!)).toBe(folder);
  expect(readdirSync(folder).sort()).toEqual([...others, "framelife.duckdb"].sort());
});

it("removeOwnSpill() does without a folder that is gone", () => {
  const gone = join(folder, "gone");
  mkdirSync(gone);
  spillFolder(join(gone, "framelife.duckdb"));
  rmSync(gone, { recursive: true });
  expect(removeOwnSpill).not.toThrow();
});
