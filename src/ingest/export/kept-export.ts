import { createReadStream, createWriteStream, existsSync } from "node:fs";
import { mkdir, mkdtemp, rename, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { pipeline } from "node:stream/promises";
import { constants, createBrotliCompress, createBrotliDecompress, createGunzip } from "node:zlib";
import { UserError } from "../../errors.ts";
import { fingerprint } from "./fingerprint.ts";
import { type OpenExport, openExport } from "./open-export.ts";
import type { Reading } from "./reading.ts";

/** Folder of the exports as they were read, beside the store. */
export function exportsFolder(storePath: string): string {
  return join(dirname(storePath), "exports");
}

function keptPath(folder: string, sha256: string): string {
  return join(folder, `${sha256}.br`);
}

/** Where copies lie that were kept before, packed another way. */
function keptBefore(folder: string, sha256: string): string {
  return join(folder, `${sha256}.gz`);
}

/** Keeps a compressed copy of an export, named by its hash. Written aside and renamed: a copy with its name is a whole one. */
export async function keepExport(path: string, folder: string, sha256: string): Promise<void> {
  const kept = keptPath(folder, sha256);
  if (existsSync(kept) || existsSync(keptBefore(folder, sha256))) return;
  await mkdir(folder, { recursive: true });
  const partial = `${kept}.${process.pid}.partial`;
  try {
    // Quality 1 of Brotli takes half the time of level 1 of gzip and an eighth less room; the copy is seldom read.
    await pipeline(
      createReadStream(path, { highWaterMark: 1 << 20 }),
      createBrotliCompress({ chunkSize: 1 << 20, params: { [constants.BROTLI_PARAM_QUALITY]: 1 } }),
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
  const before = keptBefore(folder, sha256);
  const isBefore = !existsSync(kept) && existsSync(before);
  if (!isBefore && !existsSync(kept)) {
    throw new UserError(
      `Cannot look up rows of ${shownPath}: its kept copy ${kept} is gone; put it back, or delete the store and run "framelife ingest" again`,
    );
  }
  await pipeline(
    createReadStream(isBefore ? before : kept),
    isBefore ? createGunzip() : createBrotliDecompress(),
    createWriteStream(to),
  );
}

/** A file as the store knows it. */
type KeptFile = { sha256: string; shownPath: string; reading: Reading };

/**
 * Opens a kept export as it was read: the same rows, by the same numbers.
 * @param scratchParent - where its temporary copies go until it is closed
 */
export async function openKept(storePath: string, file: KeptFile, scratchParent = tmpdir()): Promise<OpenExport> {
  const { sha256, shownPath, reading } = file;
  const scratch = await mkdtemp(join(scratchParent, "framelife-kept-"));
  const close = () => rm(scratch, { recursive: true, force: true });
  try {
    const path = join(scratch, "export");
    await unpackExport(exportsFolder(storePath), sha256, shownPath, path);
    const mark = await fingerprint(path, shownPath);
    return { ...(await openExport({ path, shownPath, reading, wanted: [], mark, scratch })), close };
  } catch (error) {
    await close();
    throw error;
  }
}
