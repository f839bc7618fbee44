import { UserError } from "../errors.ts";

/** What the engine or the system says of a file that can't be read, or a store that can't be written, as words for the user. */
export function engineFault(path: string, error: unknown): unknown {
  if (!(error instanceof Error) || error instanceof UserError) return error;
  const csv = /CSV Error on Line: (\d+)\n([^\n]*)\n?([^\n]*)/.exec(error.message);
  if (csv) {
    const why = (csv[2] ?? "").startsWith("Original Line") ? csv[3] : csv[2];
    return userError(
      `Cannot read ${path}: line ${csv[1]}: ${why?.trim()}; correct that line, or export the file again`,
      error,
    );
  }
  if (/No space left|disk is full/i.test(error.message)) {
    return userError(`Cannot store ${path}: ${firstLine(error)}; make room and run "framelife ingest" again`, error);
  }
  const system = "code" in error && typeof error.code === "string";
  if (system || error.message.startsWith("IO Error")) {
    return userError(`Cannot ingest ${path}: ${firstLine(error)}; see to that and run "framelife ingest" again`, error);
  }
  return error;
}

function firstLine(error: Error): string {
  return (error.message.split("\n")[0] ?? "").replace(/^(TransactionContext Error: |IO Error: )+/, "");
}

function userError(message: string, cause: Error): UserError {
  return new UserError(message, 1, { cause });
}
