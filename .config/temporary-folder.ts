import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** Gives the tests one temporary folder of their own and takes it away at the end, whatever they leave in it. */
export function setup(): () => void {
  const folder = mkdtempSync(join(tmpdir(), "framelife-tests-"));
  process.env["TMPDIR"] = folder;
  return () => rmSync(folder, { recursive: true, force: true });
}
