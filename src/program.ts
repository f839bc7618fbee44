import { Command, InvalidArgumentError } from "commander";
import { auditCommand } from "./commands/audit.ts";
import { benchCommand } from "./commands/bench.ts";
import { compareCommand } from "./commands/compare.ts";
import { demoCommand } from "./commands/demo.ts";
import { eachOnce } from "./commands/each-once.ts";
import { gaugeCommand } from "./commands/gauge.ts";
import { ingestCommand } from "./commands/ingest.ts";
import { initCommand } from "./commands/init.ts";
import { intervalsCommand } from "./commands/intervals.ts";
import { lifeCommand } from "./commands/life.ts";
import { mapCommand } from "./commands/map.ts";
import { offendersCommand } from "./commands/offenders.ts";
import { queryCommand } from "./commands/query.ts";
import { reportCommand } from "./commands/report.ts";
import { runCommand } from "./commands/run.ts";
import { simulateCommand } from "./commands/simulate.ts";
import { sparesCommand } from "./commands/spares.ts";
import type { Surroundings } from "./commands/surroundings.ts";
import { traceCommand } from "./commands/trace.ts";
import { trialCommand } from "./commands/trial.ts";
import { memorySize } from "./store/memory-size.ts";
import { packageVersion } from "./workspace/package-file.ts";

/** The commands by name, in the order of the work; nothing happens on import. */
export function program(around: Surroundings): Command {
  const framelife = new Command("framelife")
    .description("Reliability analytics over the rebuild history of pump bearing frames")
    .version(packageVersion(), "--version", "print the version")
    .option("--workspace <folder>", "folder with framelife.yaml; the nearest one above if not given")
    .option(
      "--memory <size>",
      "most memory for the database engine, for example 2GB; what does not fit waits on disk beside the store. The program's own arrays come on top. Half of the machine's if not given, 600MB while exports are read",
      memory,
    )
    .option("--quiet", "no progress and no notices on standard error")
    .option("--debug", "show where an error arose")
    .hook("preAction", (program) => {
      const { memory } = program.opts<{ memory?: number }>();
      if (memory !== undefined) around.memory = memory;
    })
    .exitOverride()
    .configureOutput({
      writeOut: (text) => around.print(text.trimEnd()),
      writeErr: (text) => around.notice(text.trimEnd()),
    });
  eachOnce(framelife);
  const commands = [
    runCommand,
    demoCommand,
    initCommand,
    mapCommand,
    ingestCommand,
    auditCommand,
    traceCommand,
    intervalsCommand,
    lifeCommand,
    offendersCommand,
    compareCommand,
    gaugeCommand,
    trialCommand,
    benchCommand,
    sparesCommand,
    reportCommand,
    queryCommand,
    simulateCommand,
  ];
  for (const command of commands) {
    const made = command(around).copyInheritedSettings(framelife);
    for (const part of made.commands) part.copyInheritedSettings(made);
    for (const part of [made, ...made.commands]) eachOnce(part);
    framelife.addCommand(made);
  }
  return framelife;
}

function memory(text: string): number {
  const size = memorySize(text);
  if (size !== null) return size;
  throw new InvalidArgumentError("give a number and its unit, as in 500MB, 2GB or 1.5GiB");
}
