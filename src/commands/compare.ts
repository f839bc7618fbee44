import { Command, InvalidArgumentError, Option } from "commander";
import { UserError } from "../errors.ts";
import type { OpenPlainTable } from "../lives/plain-table.ts";
import { MATTERS } from "../questions/matters.ts";
import { withRecords } from "./open-records.ts";
import { list, positive, type QuestionOptions, questionOptions, whole } from "./question-options.ts";
import type { Surroundings } from "./surroundings.ts";

type CompareOptions = Omit<QuestionOptions, "by"> & {
  bands?: number[];
  adjust?: string[];
  stratify?: string[];
  model: "aft" | "ph";
  gaugeSd?: number;
  straight?: true;
  reference?: string;
  contrast?: [number, number];
  matters: number;
  cluster?: "unit" | "position";
  seed: number;
};

/** `framelife compare`: whether lives differ with what was known at their start. */
export function compareCommand(around: Surroundings): Command {
  const command = new Command("compare")
    .description(
      "whether parts last longer with another end play, lube or whatever is on record of a build, all else alike",
    )
    .argument(
      "<effect>",
      "end_play, lube, seal_arrangement, ring_temperature, part_batch, or any column known at the start",
    );
  return questionOptions(
    command,
    "time, status[, entry], or time_low, time_high; [count, unit, position] and the covariates",
    { by: false, together: true },
  )
    .addOption(
      new Option(
        "--bands <edges>",
        "edges between bands of a measured value; the workspace's, else thirds, if not given",
      ).argParser(rising),
    )
    .addOption(
      new Option(
        "--adjust <columns>",
        "what to hold alike, separated by commas, or none; the usual columns of a workspace if not given",
      ).argParser(adjust),
    )
    .addOption(
      new Option("--model <model>", "accelerated lives (aft), or proportional hazards (ph)")
        .choices(["aft", "ph"])
        .default("aft"),
    )
    .addOption(
      new Option(
        "--stratify <columns>",
        "with --model ph: compare only lives alike in these columns, separated by commas",
      ).argParser(list),
    )
    .addOption(
      new Option(
        "--gauge-sd <value>",
        "standard deviation of the gauge, in the unit of the readings; that of end play in the workspace if not given",
      ).argParser(positive),
    )
    .option("--straight", "a straight line instead of a curve for a measured value")
    .option("--reference <level>", "level that the others are held against; the most common if not given")
    .addOption(
      new Option(
        "--contrast <values>",
        "two values to set against each other; the middles of the window's lower and upper third if not given",
      ).argParser(two),
    )
    .addOption(new Option("--matters <ratio>", "ratio of lives that would matter").argParser(aboveOne).default(MATTERS))
    .addOption(
      new Option(
        "--cluster <what>",
        "what is left out in turn to tell how certain figures are; the less certain of both if not given",
      ).choices(["unit", "position"]),
    )
    .addOption(new Option("--seed <number>", "seed of what is drawn at random").argParser(whole).default(1))
    .action(async (effect: string, options: CompareOptions) => {
      const [{ askCompare }, { compareTable }, { printAnswer }] = await Promise.all([
        import("../questions/compare.ts"),
        import("./compare-table.ts"),
        import("./print-answer.ts"),
      ]);
      const study = {
        plain: async (table: OpenPlainTable) => {
          const { studyPlainLives } = await import("../lives/plain-lives.ts");
          await studyPlainLives(table, options.columns ?? {});
        },
        steps: (clock: "hours" | "days") => [`40_studied_${clock}`],
        installations: false,
      };
      if (options.stratify !== undefined && options.model === "aft") {
        throw new UserError(
          "Cannot use --stratify with --model aft: accelerated lives have no strata; add --model ph, or name the columns after --adjust",
          2,
        );
      }
      const straight = options.straight === true;
      const answer = await withRecords(around, command, { ...options, by: [] }, study, (connection, source, clock) =>
        askCompare(connection, { ...options, by: [], effect, straight, clock }, source),
      );
      await printAnswer(around, answer, () => compareTable(answer), options);
    });
}

function numbers(text: string): number[] {
  const found = text.split(",").map((part) => (part.trim() === "" ? Number.NaN : Number(part)));
  if (!found.every(Number.isFinite)) throw new InvalidArgumentError("give numbers separated by commas");
  return found;
}

function rising(text: string): number[] {
  const edges = numbers(text);
  if (edges.some((edge, at) => at > 0 && edge <= edges[at - 1]!)) {
    throw new InvalidArgumentError("give edges in rising order, for example 2,3.5,5.5,7");
  }
  return edges;
}

function two(text: string): [number, number] {
  const [first, second, ...more] = numbers(text);
  if (first === undefined || second === undefined || more.length > 0 || first === second) {
    throw new InvalidArgumentError("give two different values, for example 3,6");
  }
  return [first, second];
}

function adjust(text: string): string[] {
  return text.trim() === "none" ? [] : list(text);
}

function aboveOne(text: string): number {
  const ratio = Number(text);
  if (!(ratio > 1 && ratio < 10)) throw new InvalidArgumentError("give a ratio above 1 and below 10, for example 1.15");
  return ratio;
}
