import { Command, InvalidArgumentError, Option } from "commander";
import { UserError } from "../errors.ts";
import type { OpenPlainTable } from "../lives/plain-table.ts";
import type { IntervalMethod } from "../questions/life-answer.ts";
import type { FamilyName } from "../stats/distribution/family.ts";
import { withRecords } from "./open-records.ts";
import { positive, type QuestionOptions, questionOptions, whole } from "./question-options.ts";
import type { Surroundings } from "./surroundings.ts";

type LifeOptions = QuestionOptions & {
  distribution: FamilyName;
  shape?: number;
  mission: number[];
  quantiles: number[];
  interval?: IntervalMethod;
  modes?: true;
  rating?: true;
  pool?: true;
  seed: number;
};

const DISTRIBUTIONS: FamilyName[] = ["weibull", "exponential", "lognormal", "log-logistic", "gamma"];
const INTERVALS: IntervalMethod[] = ["profile", "calibrated", "clustered", "wald", "bootstrap"];

/** `framelife life`: how long each bearing and seal lasts. */
export function lifeCommand(around: Surroundings): Command {
  const command = new Command("life").description("how long each bearing and seal lasts, with its certainty");
  return questionOptions(
    command,
    "time, status[, entry], or time_low, time_high; [count, unit, position, mode] and any covariate",
  )
    .addOption(
      new Option("--distribution <law>", "law that the lives follow").choices(DISTRIBUTIONS).default("weibull"),
    )
    .addOption(
      new Option("--interval <method>", "how limits are found; by default as the lives need it").choices(INTERVALS),
    )
    .addOption(new Option("--shape <number>", "take the Weibull shape as known").argParser(positive))
    .addOption(
      new Option("--mission <times>", "share unfailed at these ages, and of running units for so much longer")
        .argParser(positives)
        .default([], "none"),
    )
    .addOption(
      new Option("--quantiles <shares>", "more shares failed to give the age of, for example 0.02,0.2")
        .argParser(shares)
        .default([], "none"),
    )
    .option("--modes", "each damage mode apart, as competing ends of a life")
    .option("--rating", "against the catalogue life of the bearings (ISO 281)")
    .option("--pool", "let groups of one slot borrow from each other")
    .addOption(new Option("--seed <number>", "seed of what is drawn at random").argParser(whole).default(1))
    .action(async (options: LifeOptions) => {
      refuseMixed(options);
      const { askLife } = await import("../questions/life.ts");
      const study = {
        plain: async (table: OpenPlainTable) => {
          const { studyPlainLives } = await import("../lives/plain-lives.ts");
          await studyPlainLives(table, options.columns ?? {});
        },
        steps: (clock: "hours" | "days") => [`40_studied_${clock}`],
        installations: options.mission.length > 0,
      };
      const [modes, rating, pool] = [options.modes === true, options.rating === true, options.pool === true];
      const answer = await withRecords(around, command, options, study, (connection, source, clock) => {
        // Loaded while the lives are read.
        const crew = import("./life-crew.ts");
        return askLife(
          connection,
          { ...options, modes, rating, pool, checks: true, curves: false, clock },
          source,
          async (groups, question) => (await crew).lifeGroups(around, groups, question),
        );
      });
      const [{ lifeTable }, { printAnswer }] = await Promise.all([
        import("./life-table.ts"),
        import("./print-answer.ts"),
      ]);
      await printAnswer(around, answer, () => lifeTable(answer), options);
    });
}

/** Options that can't be had together are refused rather than one of them passed over. */
function refuseMixed(options: LifeOptions): void {
  const { shape, distribution, interval } = options;
  if (shape !== undefined && distribution !== "weibull") {
    throw new UserError(
      `Cannot use --shape with --distribution ${distribution}: only a Weibull shape is taken as known; leave one out`,
      2,
    );
  }
  if (shape !== undefined && interval !== undefined) {
    throw new UserError(
      `Cannot use --interval ${interval} with --shape: with the shape known limits come from the chi-square distribution; leave one out`,
      2,
    );
  }
  if (options.pool === true && (shape !== undefined || distribution !== "weibull")) {
    throw new UserError(
      "Cannot use --pool with --shape or --distribution: groups borrow by fitted Weibull laws; leave one out",
      2,
    );
  }
  if (options.rating === true && options.from !== undefined) {
    throw new UserError("Cannot use --rating with --from: a plain table has no bearings; leave one out", 2);
  }
}

function positives(text: string): number[] {
  return text.split(",").map(positive);
}

function shares(text: string): number[] {
  const numbers = text.split(",").map(Number);
  if (numbers.some((share) => !(share > 0 && share < 1)))
    throw new InvalidArgumentError("give shares above 0 and below 1, separated by commas");
  return numbers;
}
