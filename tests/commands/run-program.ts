import { explainFailure } from "../../src/commands/explain-failure.ts";
import type { Surroundings } from "../../src/commands/surroundings.ts";
import { program } from "../../src/program.ts";

export type Ran = { status: number; out: string; err: string };

/** Runs the program in this process, as from a shell in `folder` on a fixed day, and records what it said. */
export async function runProgram(folder: string, ...args: string[]): Promise<Ran> {
  const ran: Ran = { status: 0, out: "", err: "" };
  const around: Surroundings = {
    print: (text) => {
      ran.out += `${text}\n`;
    },
    notice: (text) => {
      ran.err += `${text}\n`;
    },
    folder,
    today: () => "2026-01-15",
    colour: false,
    progress: false,
    setStatus: (status) => {
      ran.status = status;
    },
  };
  try {
    await program(around).parseAsync(["node", "framelife", ...args]);
  } catch (error) {
    const { status, says } = explainFailure(error, false);
    ran.status = status;
    if (says !== null) ran.err += `${says}\n`;
  }
  return ran;
}
