import { Command, InvalidArgumentError, Option } from "commander";
import type { AskedArm } from "../questions/trial-plan.ts";
import { settingsOf, withRecords } from "./open-records.ts";
import { day, level, whole } from "./question-options.ts";
import type { Surroundings } from "./surroundings.ts";
import { between, trialName, wholeFrom } from "./trial-options.ts";

type PlanOptions = {
  arms: [AskedArm, AskedArm];
  ratio: number;
  power: number;
  level: number;
  looks: number;
  blocks: number[];
  seed: number;
  fleet?: string;
  slot?: string;
  asOf?: string;
  name: string;
  amend?: string;
  try?: true;
  json?: true;
  csv?: string;
};

/** `framelife trial plan`: what a trial takes, and its protocol. */
export function trialPlanCommand(around: Surroundings): Command {
  const command = new Command("plan")
    .description(
      "failures, builds and months that a trial of two targets takes, by the fleet's own lives; keeps the protocol in the workspace",
    )
    .addOption(
      new Option("--arms <bands>", "two bands of end play inside the window: tight=2-4,wide=5-7")
        .argParser(arms)
        .makeOptionMandatory(),
    )
    .addOption(
      new Option("--ratio <ratio>", "ratio of lives that is to be seen").argParser(between(1, 10)).default(1.5),
    )
    .addOption(new Option("--power <share>", "chance to see it").argParser(between(0.5, 1)).default(0.8))
    .option("--level <share>", "confidence level of all looks together", level, 0.95)
    .addOption(
      new Option("--looks <number>", "evenly spaced looks at the trial").argParser(wholeFrom(1, 10)).default(3),
    )
    .addOption(new Option("--blocks <sizes>", "sizes of blocks, even numbers").argParser(blocks).default([4, 6], "4,6"))
    .addOption(
      new Option("--seed <number>", "seed of the assignment list; keep it from those who build")
        .argParser(whole)
        .makeOptionMandatory(),
    )
    .option("--fleet <name>", "fleet to try it in; all together if not given")
    .option("--slot <name>", "place in the frame whose life counts; the first bearing declared if not given")
    .option("--as-of <date>", "day up to which events are looked at, YYYY-MM-DD; the workspace's if not given", day)
    .addOption(new Option("--name <name>", "name of the trial").argParser(trialName).default("trial"))
    .option("--try", "reckon only: keep no protocol")
    .option("--amend <reason>", "change a protocol that is there, and record why")
    .option("--json", "print the answer as JSON")
    .option("--csv <file>", "write what each ratio takes to a CSV file");
  return command.action(async ({ name, amend, blocks: blockSizes, ...options }: PlanOptions) => {
    if (amend !== undefined && amend.trim() === "") command.error("error: --amend needs a reason");
    if (amend !== undefined && options.try) command.error("error: --amend keeps a protocol, --try keeps none");
    const [{ askTrialPlan }, { planTable }, { printAnswer }, { keepProtocol, protocolPath }] = await Promise.all([
      import("../questions/trial-plan.ts"),
      import("./trial-table.ts"),
      import("./print-answer.ts"),
      import("../workspace/protocol.ts"),
    ]);
    const study = { plain: async () => {}, steps: () => ["40_studied_days"], installations: false };
    const asked = { ...options, by: [], clock: "days" as const };
    const { answer, plan } = await withRecords(around, command, asked, study, (connection, source) => {
      if (source.kind === "table") throw new TypeError("Cannot plan a trial of a plain table");
      return askTrialPlan(connection, { ...asked, name, blockSizes }, source);
    });
    if (plan !== null && !options.try) {
      const { folder } = await settingsOf(around, command);
      const kept = keepProtocol(folder, name, plan, { today: around.today(), ...(amend !== undefined && { amend }) });
      Object.assign(answer, { ...kept, kept: protocolPath(folder, name) });
    }
    await printAnswer(around, answer, () => planTable(answer), options);
  });
}

function arms(text: string): [AskedArm, AskedArm] {
  const found = text.split(",").map((part) => {
    const [, name = "", low, high] = /^\s*([a-z][a-z0-9_-]*)=(\d+(?:\.\d+)?)-(\d+(?:\.\d+)?)\s*$/.exec(part) ?? [];
    return { name, low: Number(low), high: Number(high) };
  });
  const [first, second, ...more] = found;
  const right = found.every(({ name, low, high }) => name !== "" && low < high);
  if (first === undefined || second === undefined || more.length > 0 || !right || first.name === second.name) {
    throw new InvalidArgumentError("give two names with their bands, for example tight=2-4,wide=5-7");
  }
  return [first, second];
}

function blocks(text: string): number[] {
  const sizes = text.split(",").map(Number);
  if (sizes.length === 0 || !sizes.every((size) => Number.isInteger(size / 2) && size >= 2 && size <= 100)) {
    throw new InvalidArgumentError("give even numbers from 2 to 100, for example 4,6");
  }
  return sizes;
}
