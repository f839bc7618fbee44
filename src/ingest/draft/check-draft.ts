import { Configuration } from "../../workspace/configuration.ts";
import { Pipeline } from "../../workspace/pipeline.ts";
import { severitiesOf } from "../../workspace/rules.ts";
import type { NamedPipeline } from "../../workspace/workspace.ts";
import { parseYaml } from "../../workspace/yaml-file.ts";
import { checkPipeline } from "../mapping/check-pipeline.ts";

/**
 * Reads a draft back as any pipeline is read: what is handed out can be ingested by.
 * @throws RangeError if it can't: a fault of the program
 */
export function checkDraft(text: string, name: string, fleets: string[], slots: string[]): NamedPipeline {
  const path = `pipelines/${name}.yaml`;
  try {
    const named = { name, path, sha256: "", pipeline: parseYaml(text, path, Pipeline) };
    checkPipeline(named, { fleets, slots, today: "", severities: severitiesOf({}) });
    return named;
  } catch (error) {
    const words = error instanceof Error ? error.message : String(error);
    throw new RangeError(`Cannot use the draft "${name}": ${words}`, { cause: error });
  }
}

/**
 * Reads a drafted configuration back as any is read.
 * @throws RangeError if it can't be: a fault of the program
 */
export function checkConfiguration(text: string): void {
  try {
    parseYaml(text, "framelife.yaml", Configuration);
  } catch (error) {
    const words = error instanceof Error ? error.message : String(error);
    throw new RangeError(`Cannot use the drafted configuration: ${words}`, { cause: error });
  }
}
