import { Command, Option } from "commander";
import type { OpenPlainTable } from "../lives/plain-table.ts";
import { withRecords } from "./open-records.ts";
import { type QuestionOptions, questionOptions } from "./question-options.ts";
import type { Surroundings } from "./surroundings.ts";

type LifeOptions = QuestionOptions & { interval: "profile" | "wald" };

/** `framelife life`: how long each bearing and seal lasts. */
export function lifeCommand(around: Surroundings): Command {
  const command = new Command("life").description("how long each bearing and seal lasts, with its certainty");
  return questionOptions(command, "time, status[, entry], or time_low, time_high; [count, unit] and any covariate")
    .addOption(
      new Option("--interval <method>", "how limits are found").choices(["profile", "wald"]).default("profile"),
    )
    .action(async (options: LifeOptions) => {
      const [{ askLife }, { lifeTable }, { printAnswer }] = await Promise.all([
        import("../questions/life.ts"),
        import("./life-table.ts"),
        import("./print-answer.ts"),
      ]);
      const study = {
        plain: async (table: OpenPlainTable) => {
          const { studyPlainLives } = await import("../lives/plain-lives.ts");
          await studyPlainLives(table, options.columns ?? {});
        },
        steps: (clock: "hours" | "days") => [`40_studied_${clock}`],
      };
      const answer = await withRecords(around, command, options, study, (connection, source, clock) =>
        askLife(connection, { ...options, clock }, source),
      );
      await printAnswer(around, answer, lifeTable(answer), options);
    });
}
