import { CommanderError } from "commander";
import { UserError } from "../errors.ts";
import { memoryFault } from "../store/memory-fault.ts";
import { printable } from "./printable.ts";

/** What to say of a command that failed, and the exit status: 1 data or configuration, 2 wrong usage, 3 quarantine above the limit. */
export function explainFailure(error: unknown, debug: boolean): { status: number; says: string | null } {
  // Commander has said it already.
  if (error instanceof CommanderError) return { status: error.exitCode === 0 ? 0 : 2, says: null };
  const ofMemory = memoryFault(error);
  return ofMemory === null ? explainOther(error, debug) : explainOther(ofMemory, debug);
}

function explainOther(error: unknown, debug: boolean): { status: number; says: string } {
  const stack = debug && error instanceof Error ? error.stack : undefined;
  if (error instanceof UserError)
    return { status: error.status, says: stack ?? error.message.split("\n").map(printable).join("\n") };
  const text = error instanceof Error ? error.message : String(error);
  if (isOfTheSystem(error, text)) {
    return {
      status: 1,
      says: stack ?? `Cannot go on: the system says ${text.split("\n")[0]}; see to that and run the command again`,
    };
  }
  return { status: 1, says: stack ?? `Unexpected, and a fault of the program: ${text}; --debug shows where` };
}

/** A full disk, a folder that can't be written to: nothing that the program could do otherwise. */
function isOfTheSystem(error: unknown, text: string): boolean {
  const code = error instanceof Error && "code" in error ? error.code : undefined;
  return (
    ["ENOSPC", "EACCES", "EPERM", "EROFS", "EDQUOT", "EEXIST", "EISDIR", "ENOTDIR"].includes(String(code)) ||
    /No space left on device/.test(text)
  );
}
