import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll } from "vitest";

/** A folder for the tests of one file, gone when they have run, and what writes a plain table into it. */
export function temporaryTables(): { folder: string; table: (name: string, text: string) => string } {
  const folder = mkdtempSync(join(tmpdir(), "framelife-"));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return {
    folder,
    table: (name, text) => {
      const path = join(folder, name);
      writeFileSync(path, text);
      return path;
    },
  };
}
