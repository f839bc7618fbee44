import { Command } from "commander";
import { gaugePlanCommand } from "./gauge-plan.ts";
import { gaugeReadCommand } from "./gauge-read.ts";
import type { Surroundings } from "./surroundings.ts";

/** `framelife gauge`: whether end play can be measured at all. */
export function gaugeCommand(around: Surroundings): Command {
  return new Command("gauge")
    .description("whether the gauge can tell frames apart: plans a study of its readings, and reads one")
    .addCommand(gaugePlanCommand(around))
    .addCommand(gaugeReadCommand(around));
}
