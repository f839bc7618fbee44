import { Command, Option } from "commander";
import { UserError } from "../errors.ts";
import { namedFolder, withRecords } from "./open-records.ts";
import { positive, type QuestionOptions, questionOptions } from "./question-options.ts";
import type { Surroundings } from "./surroundings.ts";

type BenchOptions = QuestionOptions & {
  fitter?: string;
  gaugeSd?: number;
  reading?: number;
  withoutShims?: number;
  shims?: number;
};

/** `framelife bench [UNIT]`: what leaves the bench and what comes back; of one frame, the sheet to build it by. */
export function benchCommand(around: Surroundings): Command {
  const command = new Command("bench")
    .description(
      "as-built end play against its window, shims against readings, and what comes back; with a UNIT, the sheet of that frame",
    )
    .argument("[unit]", "the frame on the bench: its last builds, why it came back, and blanks to fill");
  return questionOptions(command, "value[, low, high, date, model]", { slot: false, clock: false })
    .option("--fitter <code>", "one fitter's own builds alone")
    .addOption(
      new Option(
        "--gauge-sd <value>",
        "standard deviation of a reading, in its unit; the workspace's if not given",
      ).argParser(positive),
    )
    .addOption(
      new Option("--reading <value>", "with a unit: end play read now, to hold against the window").argParser(positive),
    )
    .addOption(new Option("--without-shims <value>", "with a reading: end play read without shims").argParser(positive))
    .addOption(new Option("--shims <value>", "with a reading: thickness of the shims put in").argParser(positive))
    .action(async (unit: string | undefined, options: BenchOptions) => {
      if (unit === undefined) await answerAll(around, command, options);
      else await answerUnit(around, command, unit, options);
    });
}

/** Readings taken now belong to the frame on the bench. */
const OF_UNIT = ["reading", "withoutShims", "shims"] as const;

async function answerAll(around: Surroundings, command: Command, options: BenchOptions): Promise<void> {
  const given = OF_UNIT.find((name) => options[name] !== undefined);
  if (given !== undefined) {
    throw new UserError(
      `Cannot use ${flagOf(given)}: it is of one frame; name the frame, as in framelife bench UNIT`,
      2,
    );
  }
  if (options.from !== undefined && options.fitter !== undefined) {
    throw new UserError(
      "Cannot use --fitter with --from: a plain table has no fitters' codes; use --where on a column of its own",
      2,
    );
  }
  const [{ askBench }, { benchTable }, { printAnswer }] = await Promise.all([
    import("../questions/bench.ts"),
    import("./bench-table.ts"),
    import("./print-answer.ts"),
  ]);
  const study = {
    plain: async (table: import("../lives/plain-table.ts").OpenPlainTable) => {
      const { studyPlainMeasured } = await import("../lives/plain-measured.ts");
      await studyPlainMeasured(table, options.columns ?? {});
    },
    steps: () => [],
    installations: true,
    built: true,
  };
  const answer = await withRecords(around, command, options, study, (connection, source) =>
    askBench(connection, options, source),
  );
  await printAnswer(around, answer, () => benchTable(answer), options);
}

/** Options that say nothing of one frame. */
const OF_ALL = ["by", "where", "fitter", "gaugeSd", "csv", "from", "columns", "level"] as const;

async function answerUnit(around: Surroundings, command: Command, unit: string, options: BenchOptions): Promise<void> {
  const given = OF_ALL.find((name) => command.getOptionValueSource(name) === "cli");
  if (given !== undefined) {
    throw new UserError(
      `Cannot use ${flagOf(given)} with a unit: the sheet is of frame "${unit}" alone; leave one of them out`,
      2,
    );
  }
  refuseHalfCheck(options);
  const [{ askBenchUnit }, { benchSheet }, { printableJson }] = await Promise.all([
    import("../questions/bench-unit.ts"),
    import("./bench-sheet.ts"),
    import("./printable.ts"),
  ]);
  const study = { plain: async () => {}, steps: () => [], installations: true, units: true };
  const { fleet, reading, withoutShims, shims } = options;
  const question = {
    ...{ unit, ...namedFolder(command) },
    ...(fleet !== undefined && { fleet }),
    ...(reading !== undefined && { reading }),
    ...(withoutShims !== undefined && { withoutShims }),
    ...(shims !== undefined && { shims }),
  };
  const answer = await withRecords(around, command, options, study, (connection, source) => {
    if (source.kind === "table") throw new TypeError("a plain table has no frames");
    return askBenchUnit(connection, question, source);
  });
  if (options.json) {
    around.print(printableJson(answer, 2));
    return;
  }
  const { default: pc } = await import("picocolors");
  around.print(benchSheet(answer, pc.createColors(around.colour).bold));
}

function refuseHalfCheck({ reading, withoutShims, shims }: BenchOptions): void {
  if (reading === undefined && (withoutShims !== undefined || shims !== undefined)) {
    throw new UserError("Cannot check shims: the end play read with them is missing; add --reading", 2);
  }
  if ((withoutShims === undefined) !== (shims === undefined)) {
    throw new UserError("Cannot check shims: --without-shims and --shims go together; give both or neither", 2);
  }
}

function flagOf(name: string): string {
  return `--${name.replaceAll(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}`;
}
