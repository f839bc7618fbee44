import { createReadStream, createWriteStream, existsSync } from "node:fs";
import { mkdir, rename, rm } from "node:fs/promises";
import { dirname, join } from "node:path";
import { pipeline } from "node:stream/promises";
import { createGunzip, createGzip } from "node:zlib";
import { UserError } from "../../errors.ts";

/** Folder of the exports as they were read, beside the store. */
export function exportsFolder(storePath: string): string {
  return join(dirname(storePath), "exports");
}

function keptPath(folder: string, sha256: string): string {
  return join(folder, `${sha256}.gz`);
}

/** Keeps a compressed copy of an export, named by its hash. Written aside and renamed: a copy with its name is a whole one. */
export async function keepExport(path: string, folder: string, sha256: string): Promise<void> {
  const kept = keptPath(folder, sha256);
  if (existsSync(kept)) return;
  await mkdir(folder, { recursive: true });
  const partial = `${kept}.${process.pid}.partial`;
  try {
    // Level 1: twice as quick as the default for a tenth more bytes, and the copy is seldom read.
    await pipeline(
      createReadStream(path, { highWaterMark: 1 << 20 }),
      createGzip({ level: 1 }),
      createWriteStream(partial),
    );
    await rename(partial, kept);
  } catch (error) {
    await rm(partial, { force: true });
    const text = error instanceof Error ? error.message : String(error);
    throw new UserError(`Cannot keep a copy of ${path}: ${text}; make room in ${folder}, or let it be written to`, 1, {
      cause: error,
    });
  }
}

/** Unpacks a kept export to `to`. */
export async function unpackExport(folder: string, sha256: string, shownPath: string, to: string): Promise<void> {
  const kept = keptPath(folder, sha256);
  if (!existsSync(kept)) {
    throw new UserError(
      `Cannot look up rows of ${shownPath}: its kept copy ${kept} is gone; put it back, or delete the store and run "framelife ingest" again`,
    );
  }
  await pipeline(createReadStream(kept), createGunzip(), createWriteStream(to));
}
