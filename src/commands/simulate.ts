import { existsSync } from "node:fs";
import { join, resolve } from "node:path";
import { Command, InvalidArgumentError } from "commander";
import { UserError } from "../errors.ts";
import { count } from "../questions/wording.ts";
import { showProgress } from "./progress.ts";
import type { Surroundings } from "./surroundings.ts";

type SimulateOptions = { out: string; seed: number; rebuilds?: number; fleets?: number };

/** `framelife simulate`: fleets with a known truth, written as exports; or as many rebuilds as are wanted, as a whole workspace. */
export function simulateCommand(around: Surroundings): Command {
  const command = new Command("simulate")
    .description(
      "make fleets with a known truth, written as exports: to try the program, and to check that it finds what was planted; or with --rebuilds a workspace of any size, to see how fast the program is",
    )
    .argument("[scenario]", "YAML file that says what is true of the fleets")
    .requiredOption("--out <folder>", "folder for the exports and the truth, or that becomes the workspace")
    .requiredOption("--seed <number>", "the same seed makes the same files", seed)
    .option("--rebuilds <number>", "in place of a scenario: a workspace of so many job cards, or a few less", cards)
    .option("--fleets <number>", "with --rebuilds: over how many fleets alike; 1 if not given", fleets);
  return command.action(async (scenario: string | undefined, options: SimulateOptions) => {
    const { rebuilds } = options;
    if (scenario !== undefined && rebuilds !== undefined) {
      throw new UserError(`Cannot simulate: found a scenario, "${scenario}", and --rebuilds; give one of the two`, 2);
    }
    if (rebuilds !== undefined) return manyRebuilds(around, { ...options, rebuilds });
    if (options.fleets !== undefined) {
      throw new UserError("Cannot use --fleets: a scenario names its own; give it with --rebuilds", 2);
    }
    if (scenario === undefined) {
      throw new UserError("Cannot simulate: nothing says what; give a scenario's file, or --rebuilds NUMBER", 2);
    }
    await fromScenario(around, scenario, options);
  });
}

async function fromScenario(around: Surroundings, file: string, { out, seed }: SimulateOptions): Promise<void> {
  const [{ readScenario }, { simulate }] = await Promise.all([
    import("../simulate/read-scenario.ts"),
    import("../simulate/simulate.ts"),
  ]);
  const made = await simulate(readScenario(resolve(around.folder, file)), { seed, out: resolve(around.folder, out) });
  around.print(
    `Made ${count(made.cards, "job card")} of ${count(made.units, "unit")} in ${count(made.files.length, "file")} under ${out}, from seed ${seed}.`,
  );
}

async function manyRebuilds(
  around: Surroundings,
  { out, seed, rebuilds, fleets = 1 }: SimulateOptions & { rebuilds: number },
): Promise<void> {
  const target = resolve(around.folder, out);
  if (existsSync(join(target, "framelife.yaml"))) {
    throw new UserError(`Cannot make a workspace in ${target}: one is there already; name another folder`);
  }
  if (rebuilds < LEAST_A_FLEET * fleets) {
    throw new UserError(
      `Cannot make ${count(fleets, "fleet")} of ${count(rebuilds, "job card")}: that leaves fleets without a frame; give --rebuilds ${LEAST_A_FLEET * fleets} or more${fleets > 1 ? ", or fewer --fleets" : ""}`,
      2,
    );
  }
  const { simulateRebuilds } = await import("../simulate/simulate-rebuilds.ts");
  const progress = await showProgress(around, "simulating");
  const made = await simulateRebuilds({ rebuilds, fleets, seed, out: target, onStep: progress.step }).finally(() =>
    progress.stop(),
  );
  around.print(
    `Made a workspace of ${count(made.cards, "job card")} of ${count(made.units, "unit")} in ${count(fleets, "fleet")} in ${out}, from seed ${seed}: framelife run --workspace ${out}`,
  );
}

/** Cards of a fleet of a few frames; with fewer no whole frame may fit. */
const LEAST_A_FLEET = 20;

function seed(text: string): number {
  const number = Number(text);
  if (!Number.isSafeInteger(number) || number < 0) throw new InvalidArgumentError("give a whole number from 0");
  return number;
}

function cards(text: string): number {
  return whole(text, 100_000_000);
}

function fleets(text: string): number {
  return whole(text, 10_000);
}

function whole(text: string, most: number): number {
  const number = Number(text);
  if (Number.isSafeInteger(number) && number >= 1 && number <= most) return number;
  throw new InvalidArgumentError(`give a whole number from 1 to ${most.toLocaleString("en-US")}`);
}
