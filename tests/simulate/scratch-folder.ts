import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach } from "vitest";

const made: string[] = [];
afterEach(() => {
  for (const folder of made.splice(0)) rmSync(folder, { recursive: true, force: true });
});

/** An empty folder that goes after the test. */
export function scratchFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "framelife-simulate-"));
  made.push(folder);
  return folder;
}
