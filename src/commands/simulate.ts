import { resolve } from "node:path";
import { Command, InvalidArgumentError } from "commander";
import { count } from "../questions/wording.ts";
import type { Surroundings } from "./surroundings.ts";

/** `framelife simulate`: fleets with a known truth, written as exports. */
export function simulateCommand(around: Surroundings): Command {
  return new Command("simulate")
    .description(
      "make fleets with a known truth, written as exports: to try the program, and to check that it finds what was planted",
    )
    .argument("<scenario>", "YAML file that says what is true of the fleets")
    .requiredOption("--out <folder>", "folder for the exports and the truth")
    .requiredOption("--seed <number>", "the same seed makes the same files", seed)
    .action(async (file: string, options: { out: string; seed: number }) => {
      const [{ readScenario }, { simulate }] = await Promise.all([
        import("../simulate/read-scenario.ts"),
        import("../simulate/simulate.ts"),
      ]);
      const scenario = readScenario(resolve(around.folder, file));
      const made = await simulate(scenario, { seed: options.seed, out: resolve(around.folder, options.out) });
      around.print(
        `Made ${count(made.cards, "job card")} of ${count(made.units, "unit")} in ${count(made.files.length, "file")} under ${options.out}, from seed ${options.seed}.`,
      );
    });
}

function seed(text: string): number {
  const number = Number(text);
  if (!Number.isSafeInteger(number) || number < 0) throw new InvalidArgumentError("give a whole number from 0");
  return number;
}
