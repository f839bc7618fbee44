import { Command, InvalidArgumentError, Option } from "commander";
import { UserError } from "../errors.ts";
import { settingsOf } from "./open-records.ts";
import { level, pairs, whole } from "./question-options.ts";
import type { Surroundings } from "./surroundings.ts";
import { trialName, wholeFrom } from "./trial-options.ts";

type ReadOptions = {
  from: string;
  columns?: Record<string, string>;
  name?: string;
  planned?: number;
  earlier: number[];
  level?: number;
  seed: number;
  json?: true;
  csv?: string;
};

/** `framelife trial read`: how a trial stands. */
export function trialReadCommand(around: Surroundings): Command {
  const command = new Command("read")
    .description(
      "how a trial stands: as assigned, against the bound of this look, then as built, with the builds that missed their band",
    )
    .requiredOption(
      "--from <file>",
      "the trial as a plain table (csv or parquet): build, assigned, built, time, status[, stratum, unit, block]",
    )
    .option("--columns <pairs>", "other headers in that table: time=hours,status=failed", pairs)
    .addOption(
      new Option("--name <name>", "trial of the workspace, by whose protocol and list it is read").argParser(trialName),
    )
    .addOption(
      new Option(
        "--planned <failures>",
        "failures planned, where no protocol says so; else this is the only look",
      ).argParser(wholeFrom(1, 1_000_000)),
    )
    .addOption(
      new Option("--earlier <failures>", "failures at which the trial was looked at before, separated by commas")
        .argParser(rising)
        .default([], "none"),
    )
    .option("--level <share>", "confidence level of all looks together; the protocol's, else 0.95, if not given", level)
    .addOption(new Option("--seed <number>", "seed of what is drawn at random").argParser(whole).default(1))
    .option("--json", "print the answer as JSON")
    .option("--csv <file>", "write the table of the answer to a CSV file");
  return command.action(async ({ from: path, columns = {}, ...options }: ReadOptions) => {
    refuseTogether(options);
    const [{ openPlainTable }, { studyPlainTrial }, { askTrialRead }, { readTable }, { printAnswer }] =
      await Promise.all([
        import("../lives/plain-table.ts"),
        import("../lives/plain-trial.ts"),
        import("../questions/trial-read.ts"),
        import("./trial-table.ts"),
        import("./print-answer.ts"),
      ]);
    const protocol = options.name === undefined ? null : await protocolOf(around, command, options.name);
    const table = await openPlainTable(around.folder, path, around);
    try {
      await studyPlainTrial(table, columns);
      const reading = {
        level: protocol?.plan.level ?? options.level ?? 0.95,
        planned: protocol?.plan.failures ?? options.planned ?? null,
        ...{ earlier: options.earlier, name: options.name ?? null, protocol, seed: options.seed },
      };
      const answer = await askTrialRead(table.connection, reading, { kind: "table", table: { path, columns } });
      await printAnswer(around, answer, () => readTable(answer), options);
    } finally {
      table.close();
    }
  });
}

async function protocolOf(around: Surroundings, command: Command, name: string) {
  const { folder } = await settingsOf(around, command);
  const { readProtocol } = await import("../workspace/protocol.ts");
  return readProtocol(folder, name);
}

function refuseTogether({ name, planned, level: asked, earlier }: Omit<ReadOptions, "from" | "columns">): void {
  const given = [planned !== undefined && "--planned", asked !== undefined && "--level"].find(Boolean);
  if (name !== undefined && given) {
    throw new UserError(`Cannot use ${given} with --name: the protocol says it; leave it out`, 2);
  }
  if (name === undefined && planned === undefined && earlier.length > 0) {
    throw new UserError(
      "Cannot use --earlier: no plan says how many failures are to be seen; add --planned or --name",
      2,
    );
  }
}

function rising(text: string): number[] {
  const found = text.split(",").map((part) => (part.trim() === "" ? Number.NaN : Number(part)));
  if (!found.every((one, at) => Number.isInteger(one) && one > (found[at - 1] ?? 0))) {
    throw new InvalidArgumentError("give whole numbers in rising order, for example 24,48");
  }
  return found;
}
