import { tmpdir } from "node:os";
import { UserError } from "../errors.ts";

/** What to tell where an engine, itself or behind another error, had not enough memory, or no room for what it puts aside; else null. */
export function memoryFault(error: unknown): UserError | null {
  for (let at = error; at instanceof Error; at = at.cause) {
    if (/^Out of Memory Error|Out of Memory Error: /.test(at.message)) return ofEngine(at.message, error);
    const file = /"([^"]*\.spill-(?:[0-9a-f]{8}-)?\d+-[0-9a-f]{12})[^"]*": No space left/.exec(at.message)?.[1];
    if (file !== undefined) return noRoom(`in ${file}`, "the disk is full", error);
  }
  return null;
}

function ofEngine(message: string, cause: unknown): UserError {
  const [, used = "", limit = ""] = /\(([^()/]+)\/([^()/]+) used\)/.exec(message) ?? [];
  if (message.includes("max_temp_directory_size")) {
    const where = `in a folder beside the store (with --from: in ${tmpdir()})`;
    return noRoom(where, `found room for ${limit}, of which ${used} is taken`, cause);
  }
  const found = limit === "" ? "" : ` of ${limit}, of which ${used} was taken`;
  return new UserError(
    `Cannot go on: the work does not fit into the database engine's memory limit${found}; give it more with --memory, as in --memory 2GB`,
    1,
    { cause },
  );
}

function noRoom(where: string, found: string, cause: unknown): UserError {
  return new UserError(
    `Cannot go on: no room is left on the disk for what the database engine puts aside ${where}: ${found}; make room there, or give the engine more memory with --memory, as in --memory 2GB`,
    1,
    { cause },
  );
}
