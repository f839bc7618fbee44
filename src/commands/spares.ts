import { resolve } from "node:path";
import { Command, InvalidArgumentError, Option } from "commander";
import { UserError } from "../errors.ts";
import type { SparesAnswer } from "../questions/spares-answer.ts";
import type { SparesQuestion } from "../questions/spares-scope.ts";
import { LONGEST_LEAD } from "../workspace/longest-lead.ts";
import { withRecords } from "./open-records.ts";
import type { AnswerTable } from "./print-answer.ts";
import { day, level, whole } from "./question-options.ts";
import { replayed } from "./replay-spares.ts";
import type { Surroundings } from "./surroundings.ts";

type SparesOptions = {
  fleet?: string;
  asOf?: string;
  clock?: "hours" | "days";
  horizon: number;
  service?: number;
  leadTime?: number;
  stock?: string;
  replace?: true;
  costs?: [number, number];
  whatIf?: string;
  backtest?: true;
  draws: number;
  seed: number;
  level: number;
  json?: true;
  csv?: string;
};

/** `framelife spares`: what will be used, what to hold, when to order. */
export function sparesCommand(around: Surroundings): Command {
  const command = new Command("spares")
    .description("what the frames in service will use, what to hold on the shelf, and what to order when")
    .option("--fleet <name>", "fleet to answer for; all fleets together if not given")
    .option("--as-of <date>", "day up to which events are looked at, YYYY-MM-DD; the workspace's if not given", day)
    .addOption(
      new Option("--clock <clock>", "what time is counted in; the workspace's if not given").choices(["hours", "days"]),
    )
    .addOption(new Option("--horizon <months>", "months ahead").argParser(between(1, 120)).default(12))
    .option(
      "--service <chance>",
      "chance of no shortage before the next order arrives; the workspace's if not given",
      level,
    )
    .addOption(
      new Option("--lead-time <days>", "lead time of parts whose own is on no list").argParser(
        between(0, LONGEST_LEAD),
      ),
    )
    .option(
      "--stock <file>",
      "stock in place of the records': a plain table (csv or parquet) of part, on_hand[, on_order, due_on, ...]",
    )
    .option("--replace", "whether a rebuild at a planned age costs less than to wait for the failure, and at which age")
    .addOption(
      new Option(
        "--costs <planned,unplanned>",
        "with --replace: what a planned rebuild costs, and one after a failure; the workspace's if not given",
      ).argParser(costs),
    )
    .option(
      "--what-if <file>",
      "the same were something otherwise, beside: a YAML file of frames, duty, end_play, lube, lead_time_days, planned_age",
    )
    .option(
      "--backtest",
      "past forecasts of a year, every three months, held against what was used, beside three plain forecasts from past use alone",
    )
    .addOption(new Option("--draws <number>", "futures that are drawn").argParser(between(100, 100_000)).default(2000))
    .addOption(new Option("--seed <number>", "seed of what is drawn at random").argParser(whole).default(1))
    .option("--level <share>", "confidence level of the limits", level, 0.95)
    .option("--json", "print the answer as JSON")
    .option("--csv <file>", "write the table of the answer to a CSV file");
  return command.action(async ({ stock, replace, costs: asked, whatIf, backtest, ...options }: SparesOptions) => {
    if (asked !== undefined && replace === undefined) {
      throw new UserError("Cannot use --costs: they are weighed for planned ages; add --replace or leave it out", 2);
    }
    const [{ askSpares }, { sparesTable }, { printAnswer }] = await Promise.all([
      import("../questions/spares.ts"),
      import("./spares-table.ts"),
      import("./print-answer.ts"),
    ]);
    const more = {
      ...(stock !== undefined && { stock: await stockList(around, stock) }),
      ...(replace !== undefined && { replace: asked === undefined ? ("own" as const) : askedCosts(asked) }),
      ...(whatIf !== undefined && { whatIf: await changesOf(around, whatIf) }),
    };
    const study = {
      plain: async () => {},
      steps: (clock: "hours" | "days") => [`40_studied_${clock}`],
      installations: true,
    };
    const answer = await withRecords(
      around,
      command,
      { ...options, by: [] },
      study,
      async (connection, source, clock) => {
        if (source.kind === "table") throw new TypeError("spares are not asked of a plain table");
        const question: SparesQuestion = { ...options, ...more, clock };
        const present = await askSpares(connection, question, source);
        if (backtest === undefined) return present;
        return replayed(around, connection, present, { question, configuration: source.configuration });
      },
    );
    const tableOf = await tableWith(answer.backtest);
    await printAnswer(around, answer, () => tableOf(sparesTable(answer)), options);
  });
}

/** Puts the table of a backtest, where there is one, before that of the forecast. */
async function tableWith(backtest: SparesAnswer["backtest"]): Promise<(table: AnswerTable) => AnswerTable> {
  if (backtest === null) return (table) => table;
  const { backtestTable } = await import("./spares-backtest-table.ts");
  return (table) => backtestTable(backtest, table);
}

async function stockList(around: Surroundings, file: string) {
  const [{ openPlainTable }, { studyPlainStock }, { readShelf }] = await Promise.all([
    import("../lives/plain-table.ts"),
    import("../lives/plain-stock.ts"),
    import("../questions/spares-shelf.ts"),
  ]);
  const table = await openPlainTable(around.folder, file, around);
  try {
    await studyPlainStock(table);
    return await readShelf(table.connection, "shelf", file);
  } finally {
    table.close();
  }
}

async function changesOf(around: Surroundings, file: string) {
  const { readWhatIf } = await import("../workspace/what-if.ts");
  return readWhatIf(resolve(around.folder, file));
}

function askedCosts([planned, unplanned]: [number, number]) {
  return { planned, unplanned, currency: null, source: "--costs" };
}

function costs(text: string): [number, number] {
  const [planned, unplanned, ...more] = text.split(",").map((part) => (part.trim() === "" ? Number.NaN : Number(part)));
  const given = planned !== undefined && unplanned !== undefined && more.length === 0;
  if (!(given && planned > 0 && unplanned > planned && unplanned < Number.POSITIVE_INFINITY)) {
    throw new InvalidArgumentError(
      "give the cost of a planned rebuild and the greater one after a failure, for example 1800,6500",
    );
  }
  return [planned, unplanned];
}

function between(least: number, most: number): (text: string) => number {
  return (text) => {
    const number = Number(text);
    if (!(Number.isInteger(number) && number >= least && number <= most)) {
      throw new InvalidArgumentError(`give a whole number from ${least} to ${most.toLocaleString("en-US")}`);
    }
    return number;
  };
}
