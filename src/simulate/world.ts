import { dayOf } from "./day.ts";
import type { FleetPlan } from "./fleet-plan.ts";
import { type Random, randomFor } from "./random.ts";
import type { Scenario } from "./scenario.ts";

/** One fleet of a scenario under one seed, with the scenario's days as day numbers. */
export type World = {
  scenario: Scenario;
  plan: FleetPlan;
  begins: number;
  recordsBegin: number;
  asOf: number;
  /** The day up to which the fleet is lived through: the as-of day, unless what comes after it is asked for. */
  until: number;
  /** The stream of draws of this fleet that belongs to the labels. */
  random: (...labels: (string | number)[]) => Random;
};

/** `replay` above 0 is the same fleet lived again with draws of its own. */
export function worldOf(scenario: Scenario, plan: FleetPlan, seed: number, replay = 0): World {
  return {
    scenario,
    plan,
    begins: dayOf(scenario.begins),
    recordsBegin: dayOf(scenario.records_begin),
    asOf: dayOf(scenario.as_of),
    until: dayOf(scenario.as_of),
    random: (...labels) => randomFor(seed, replay, plan.name, ...labels),
  };
}
