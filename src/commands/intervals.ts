import { Command, Option } from "commander";
import type { OpenPlainTable } from "../lives/plain-table.ts";
import { withRecords } from "./open-records.ts";
import { type QuestionOptions, questionOptions, whole } from "./question-options.ts";
import type { Surroundings } from "./surroundings.ts";

type IntervalsOptions = QuestionOptions & { events: "all" | "failure" | "planned"; seed: number };

/** `framelife intervals`: how long between rebuilds. */
export function intervalsCommand(around: Surroundings): Command {
  const command = new Command("intervals").description(
    "how long between rebuilds of a frame, or with --slot between replacements there, failures apart",
  );
  return questionOptions(command, "unit, time, event[, entry]; event failure, planned or end")
    .addOption(
      new Option("--events <kind>", "rebuilds counted by the curves")
        .choices(["all", "failure", "planned"])
        .default("all"),
    )
    .addOption(new Option("--seed <number>", "seed of what is drawn at random").argParser(whole).default(1))
    .action(async (options: IntervalsOptions) => {
      const [{ askIntervals }, { intervalsTable }, { printAnswer }] = await Promise.all([
        import("../questions/intervals.ts"),
        import("./intervals-table.ts"),
        import("./print-answer.ts"),
      ]);
      const study = {
        plain: async (table: OpenPlainTable) => {
          const { studyPlainHistories } = await import("../lives/plain-histories.ts");
          await studyPlainHistories(table, options.columns ?? {});
        },
        steps: (clock: "hours" | "days") => [`${options.slot === undefined ? "41_observed" : "42_replaced"}_${clock}`],
        installations: options.slot === undefined,
      };
      const answer = await withRecords(around, command, options, study, (connection, source, clock) =>
        askIntervals(connection, { ...options, clock }, source),
      );
      await printAnswer(around, answer, () => intervalsTable(answer), options);
    });
}
