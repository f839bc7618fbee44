import { randomBytes } from "node:crypto";
import { accessSync, constants, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, dirname, join } from "node:path";

/**
 * Where an engine on the store `file` puts aside what its memory does not hold: a folder of its own beside the store, for readers stand side by
 * side and would write into each other's files; among the system's temporary files where the store's folder can't be written to.
 * The engine makes it when it first needs it.
 */
export function spillFolder(file: string): string {
  const name = `${basename(file)}.spill-${process.pid}-${randomBytes(6).toString("hex")}`;
  try {
    accessSync(dirname(file), constants.W_OK);
    return join(dirname(file), name);
  } catch {
    return join(tmpdir(), name);
  }
}

/** The same for an engine without a file. */
export function memorySpillFolder(): string {
  return join(tmpdir(), `framelife.spill-${process.pid}-${randomBytes(6).toString("hex")}`);
}

export function removeSpill(folder: string): void {
  rmSync(folder, { recursive: true, force: true });
}

/** What killed processes put aside. Whoever holds the store to write is alone with it, so that none of it is in use. */
export function removeSpillLeft(file: string): void {
  const folder = dirname(file);
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    if (entry.isDirectory() && isSpill(entry.name, basename(file))) removeSpill(join(folder, entry.name));
  }
}

/** `.tmp` is what the engine takes of itself, as earlier versions of the program let it. */
function isSpill(name: string, store: string): boolean {
  return (
    name === `${store}.tmp` ||
    (name.startsWith(`${store}.spill-`) && /^\d+-[0-9a-f]{12}$/.test(name.slice(store.length + 7)))
  );
}
