import { Command, Option } from "commander";
import type { OpenPlainTable } from "../lives/plain-table.ts";
import type { EntityKind } from "../questions/offenders-answer.ts";
import { withRecords } from "./open-records.ts";
import { type QuestionOptions, questionOptions, whole } from "./question-options.ts";
import type { Surroundings } from "./surroundings.ts";

type OffendersOptions = Omit<QuestionOptions, "by"> & { by: EntityKind; seed: number };

const KINDS: EntityKind[] = ["unit", "position", "model", "site", "batch"];

/** `framelife offenders`: what comes back more often than chance explains. */
export function offendersCommand(around: Surroundings): Command {
  const command = new Command("offenders").description(
    "what comes back for failure more often than chance explains, and whether the frame or the place is to blame",
  );
  return questionOptions(
    command,
    "unit, time, event[, entry, position]; or unit, events, exposure[, expected, position]",
    { by: false },
  )
    .addOption(new Option("--by <kind>", "what to look for offenders among").choices(KINDS).default("unit"))
    .addOption(new Option("--seed <number>", "seed of what is drawn at random").argParser(whole).default(1))
    .action(async ({ by: kind, ...options }: OffendersOptions) => {
      const [{ askOffenders, isOfMovedLives }, { isOfLives }, { offendersTable }, { printAnswer }] = await Promise.all([
        import("../questions/offenders.ts"),
        import("../questions/scope.ts"),
        import("./offenders-table.ts"),
        import("./print-answer.ts"),
      ]);
      const asked = { kind, ...(options.slot !== undefined && { slot: options.slot }) };
      const slotted = isOfLives(asked);
      let counts = false;
      const study = {
        plain: async (table: OpenPlainTable) => {
          const { hasCounts, studyPlainCounts } = await import("../lives/plain-counts.ts");
          counts = hasCounts(table, options.columns ?? {});
          if (counts) return studyPlainCounts(table, options.columns ?? {});
          const [{ studyPlainHistories }, { runStep }] = await Promise.all([
            import("../lives/plain-histories.ts"),
            import("../store/run-step.ts"),
          ]);
          await studyPlainHistories(table, options.columns ?? {});
          await runStep(table.connection, "43_exposed_plain");
        },
        steps: (clock: "hours" | "days") => [`43_exposed_${slotted ? "slot_" : ""}${clock}`],
        installations: !slotted || isOfMovedLives(asked),
      };
      const answer = await withRecords(around, command, { ...options, by: [] }, study, (connection, source, clock) =>
        askOffenders(connection, { ...options, by: [], kind, clock }, source, counts ? "counts" : "exposed"),
      );
      await printAnswer(around, answer, () => offendersTable(answer), options);
    });
}
