import { readYamlFile } from "../workspace/yaml-file.ts";
import { Scenario } from "./scenario.ts";

/**
 * Reads and checks a scenario file.
 * @throws UserError naming file, line, what was found and the remedy
 */
export function readScenario(path: string): Scenario {
  return readYamlFile(path, Scenario, "the scenario");
}
