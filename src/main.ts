#!/usr/bin/env node
import { CommanderError } from "commander";
import pc from "picocolors";
import type { Surroundings } from "./commands/surroundings.ts";
import { UserError } from "./errors.ts";
import { program } from "./program.ts";

const around: Surroundings = {
  print: (text) => process.stdout.write(`${text}\n`),
  notice: (text) => process.stderr.write(`${text}\n`),
  folder: process.cwd(),
  today: () => new Date().toISOString().slice(0, 10),
  colour: process.stdout.isTTY === true && pc.isColorSupported,
  progress: process.stderr.isTTY === true && !process.argv.includes("--quiet"),
  setStatus: (status) => {
    process.exitCode = status;
  },
};

// A reader that stops early (`framelife life | head`) is no fault of ours.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE") throw error;
  process.exit(0);
});

try {
  await program(around).parseAsync(process.argv);
} catch (error) {
  process.exitCode = report(error);
}

/** Says what went wrong on standard error and gives the exit status. */
function report(error: unknown): number {
  const debug = process.argv.includes("--debug");
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2; // commander has said it already
  if (error instanceof UserError) {
    around.notice(debug ? (error.stack ?? error.message) : error.message);
    return error.status;
  }
  const text = error instanceof Error ? error.message : String(error);
  around.notice(`Unexpected, and a fault of the program: ${text}${debug ? "" : "; --debug shows where"}`);
  if (debug && error instanceof Error) around.notice(error.stack ?? "");
  return 1;
}
