#!/usr/bin/env node
import { fileURLToPath } from "node:url";
import { explainFailure } from "./commands/explain-failure.ts";
import { ownProcess } from "./commands/own-process.ts";
import type { Surroundings } from "./commands/surroundings.ts";
import { program } from "./program.ts";

async function askOnTerminal(question: string): Promise<string> {
  const { createInterface } = await import("node:readline/promises");
  const terminal = createInterface({ input: process.stdin, output: process.stdout });
  try {
    return await terminal.question(question);
  } finally {
    terminal.close();
  }
}

const quiet = process.argv.includes("--quiet");
const around: Surroundings = {
  print: (text) => process.stdout.write(`${text}\n`),
  notice: (text) => process.stderr.write(`${text}\n`),
  folder: process.cwd(),
  today: () => new Date().toISOString().slice(0, 10),
  colour: process.stdout.isTTY === true && process.env["NO_COLOR"] === undefined,
  progress: process.stderr.isTTY === true && !quiet,
  ...(process.stdin.isTTY === true && process.stdout.isTTY === true ? { ask: askOnTerminal } : {}),
  setStatus: (status) => {
    process.exitCode = status;
  },
  process: ownProcess(fileURLToPath(import.meta.url)),
};

// A reader that stops early (`framelife life | head`) is no fault of ours.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code === "EPIPE") process.exit(0);
  around.notice(`Cannot print the answer: ${error.message}; see to that and run the command again`);
  process.exit(1);
});

try {
  await program(around).parseAsync(process.argv);
} catch (error) {
  const { status, says } = explainFailure(error, process.argv.includes("--debug"));
  if (says !== null) around.notice(says);
  process.exitCode = status;
}
