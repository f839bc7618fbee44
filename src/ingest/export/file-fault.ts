import { UserError } from "../../errors.ts";

const WORDS: Record<string, string> = {
  ENOENT: "the file is there no longer; put it back, or run the command again when it has been written",
  EISDIR: 'it is a folder, not a file; name the files in it under "files", as in "folder/*.csv"',
  EACCES: "permission denied (EACCES); let the file be read by who runs this",
  EPERM: "permission denied (EPERM); let the file be read by who runs this",
  EIO: "the disk failed to read it (EIO); copy it from where it came",
  ENOSPC: "no space left on device for its temporary copy (ENOSPC); make room and run the command again",
};

/** What the system says of a file that can't be read, as words for the user; any other error as it is. */
export function fileFault(shownPath: string, error: unknown): unknown {
  if (!(error instanceof Error) || !("code" in error) || typeof error.code !== "string") return error;
  const words = WORDS[error.code];
  return words === undefined ? error : new UserError(`Cannot read ${shownPath}: ${words}`, 1, { cause: error });
}
