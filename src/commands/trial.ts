import { Command } from "commander";
import type { Surroundings } from "./surroundings.ts";
import { trialAssignCommand } from "./trial-assign.ts";
import { trialPlanCommand } from "./trial-plan.ts";
import { trialReadCommand } from "./trial-read.ts";

/** `framelife trial`: a fair trial of two targets of the end play. */
export function trialCommand(around: Surroundings): Command {
  return new Command("trial")
    .description("a fair trial of two targets of the end play: plans it, assigns builds at random, reads how it stands")
    .addCommand(trialPlanCommand(around))
    .addCommand(trialAssignCommand(around))
    .addCommand(trialReadCommand(around));
}
