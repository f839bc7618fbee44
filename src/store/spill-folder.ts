import { createHash, randomBytes } from "node:crypto";
import { accessSync, constants, rmSync } from "node:fs";
import { hostname, tmpdir } from "node:os";
import { basename, dirname, join } from "node:path";
import { isOurs, removeFolders } from "./own-spill.ts";

/** The machine, for numbers of processes say nothing on another that shares the folder. */
const HERE = createHash("sha256").update(hostname()).digest("hex").slice(0, 8);

/**
 * Where an engine on the store `file` puts aside what its memory does not hold: a folder of its own beside the store, for readers stand side by
 * side and would write into each other's files; among the system's temporary files where the store's folder can't be written to.
 * The engine makes it when it first needs it.
 */
export function spillFolder(file: string): string {
  try {
    accessSync(dirname(file), constants.W_OK);
    return ownFolder(dirname(file), basename(file));
  } catch {
    return ownFolder(tmpdir(), basename(file));
  }
}

/** The same for an engine without a file. */
export function memorySpillFolder(): string {
  return ownFolder(tmpdir(), "framelife");
}

function ownFolder(folder: string, of: string): string {
  const begins = `${of}.spill-${HERE}-${process.pid}-`;
  isOurs(folder, begins);
  removeSpillOfEnded(folder, of);
  return join(folder, `${begins}${randomBytes(6).toString("hex")}`);
}

export function removeSpill(folder: string): void {
  rmSync(folder, { recursive: true, force: true });
}

/** What killed processes put aside. Whoever holds the store to write is alone with it, so that none of it is in use. */
export function removeSpillLeft(file: string): void {
  const store = basename(file);
  // `.tmp` is what the engine takes of itself, as earlier versions of the program let it
  removeFolders(dirname(file), (name) => name === `${store}.tmp` || partsOf(name, store) !== null);
}

/** What processes of this machine put aside that run no longer. */
function removeSpillOfEnded(folder: string, of: string): void {
  removeFolders(folder, (name) => {
    const parts = partsOf(name, of);
    return parts !== null && parts.machine === HERE && !runs(parts.pid);
  });
}

/** @returns where a folder was made by an engine, on which machine (in earlier versions not told) and by which process */
function partsOf(name: string, of: string): { machine: string | undefined; pid: number } | null {
  if (!name.startsWith(`${of}.spill-`)) return null;
  const found = /^(?:([0-9a-f]{8})-)?(\d+)-[0-9a-f]{12}$/.exec(name.slice(of.length + ".spill-".length));
  return found === null ? null : { machine: found[1], pid: Number(found[2]) };
}

function runs(pid: number): boolean {
  try {
    process.kill(pid, 0); // asks only
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code !== "ESRCH";
  }
}
