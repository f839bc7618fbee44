import { permutedBlocks } from "../stats/trial/permuted-blocks.ts";
import type { Protocol, TrialPlan } from "../workspace/protocol.ts";
import type { AssignedBuild, TrialAssignAnswer } from "./trial-answer.ts";
import { count } from "./wording.ts";

/** How the list is kept, for a slot whose life counts. */
const instructions = (name: string, slot: string, since: string) => [
  `A build enters the trial where its frame is of a stratum and gets new ${slot.replaceAll("_", " ")}`,
  "One person who builds nothing keeps this list; the next line of a stratum is opened when a frame is stripped, its parts are accepted, and not before",
  "Write the unit on the line as it is opened; a line that was opened counts, whatever becomes of the build",
  "Set the end play inside the band that the line says; record the final reading under built, even where it missed",
  "Who decides why a frame was removed does not know its band",
  "A build that runs hot in its first 24 hours stops further builds of its band until it is explained",
  `At the failures planned and no others fill in time, from going into service on, of all builds in days or of all in hours, and status: 1 where the ${slot.replaceAll("_", " ")} failed, 0 where they came out unfailed or still run`,
  `What the records say of both tells framelife query "select unit, model, start_on, days, hours, status from life where slot = '${slot}' and start_on >= '${since}' order by unit, start_on" (start_on is the day of going into service)`,
  `Then: framelife trial read --name ${name} --from FILE`,
];

const CAUTIONS = [
  "Setting end play means presses, heat and a shaft to handle: isolate, lock out, tag and prove dead, guard the press, and handle heated bearings with insulated gloves",
  "Bands lie inside the window of the workspace; the pump's and the bearing's makers' manuals, the rules of the site and local codes come first, and where they differ the build leaves the trial",
];

/** The list by which builds fall to bands: in random permuted blocks within each stratum, the same each time for a protocol. */
export function assignTrial(name: string, { plan, decided_on }: Protocol, builds: number): TrialAssignAnswer {
  const list = assignedBuilds(plan, builds);
  return {
    schema: 1,
    command: "trial assign",
    answer: `${count(list.length, "build")} of trial ${name}, ${builds} in each of ${count(plan.strata.length, "stratum", "strata")}, fall to ${plan.arms[0].name} and ${plan.arms[1].name} in random blocks from seed ${plan.seed}.`,
    name,
    unit: plan.unit,
    seed: plan.seed,
    builds: list,
    instructions: instructions(name, plan.slot, decided_on),
    cautions: CAUTIONS,
  };
}

/** The first so many builds of each stratum; a longer list begins as a shorter one. */
export function assignedBuilds({ arms, strata, block_sizes, seed }: TrialPlan, builds: number): AssignedBuild[] {
  const { stratum, block, arm } = permutedBlocks({
    ratio: [1, 1],
    blockSizes: block_sizes,
    strata: strata.map(() => builds),
    seed,
  });
  return Array.from(arm, (one, row) => {
    const { name: assigned, low, high } = arms[one]!;
    const number = String((row % builds) + 1).padStart(3, "0");
    return {
      build: `${stratum[row]! + 1}-${number}`,
      stratum: strata[stratum[row]!]!,
      block: block[row]! + 1,
      assigned,
      low,
      high,
    };
  });
}
