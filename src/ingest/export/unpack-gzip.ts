import { createReadStream, createWriteStream } from "node:fs";
import { stat } from "node:fs/promises";
import { Transform } from "node:stream";
import { pipeline } from "node:stream/promises";
import { createGunzip } from "node:zlib";
import { UserError } from "../../errors.ts";
import { fileFault } from "./file-fault.ts";
import { megabytes, mostUnpacked } from "./limits.ts";

/** @throws UserError if the file is cut off, damaged, or becomes larger than any export */
export async function unpackGzip(from: string, shownPath: string, to: string): Promise<void> {
  const { size } = await stat(from);
  try {
    await pipeline(
      createReadStream(from, { highWaterMark: 1 << 20 }),
      createGunzip({ chunkSize: 1 << 18 }),
      limited(mostUnpacked(size), shownPath),
      createWriteStream(to),
    );
  } catch (error) {
    throw gzipFault(shownPath, error);
  }
}

function limited(most: number, shownPath: string): Transform {
  let bytes = 0;
  return new Transform({
    transform(chunk: Buffer, _encoding, done) {
      bytes += chunk.length;
      if (bytes <= most) done(null, chunk);
      else done(tooLarge(shownPath, most));
    },
  });
}

function tooLarge(shownPath: string, most: number): UserError {
  return new UserError(
    `Cannot read ${shownPath}: unpacked, it is over ${megabytes(most)}, far more than an export of its packed size; unpack it by hand if you trust it, and name the unpacked file`,
  );
}

function gzipFault(shownPath: string, error: unknown): unknown {
  const code = error instanceof Error && "code" in error ? error.code : undefined;
  if (code === "Z_BUF_ERROR") return damaged(shownPath, "its gzip data end too early: the file is cut off", error);
  if (code === "Z_DATA_ERROR") return damaged(shownPath, "its gzip data are damaged", error);
  return fileFault(shownPath, error);
}

function damaged(shownPath: string, what: string, cause: unknown): UserError {
  return new UserError(`Cannot read ${shownPath}: ${what}; copy it from where it came, or export it again`, 1, {
    cause,
  });
}
