import type { Command } from "commander";
import { UserError } from "../errors.ts";

/** What to do in place of an option given twice, where it isn't to leave one out. */
const REMEDY: Record<string, string> = {
  "--where": 'join the conditions with "and"',
  "--by": "separate its columns with commas",
};

/** Has a command refuse an option with a value that is given twice: the first would be lost, and its answer would not say so. */
export function eachOnce(command: Command): void {
  for (const option of command.options) {
    if (!(option.required || option.optional) || option.variadic) continue;
    const { long } = option;
    let given: string | null = null;
    command.on(`option:${option.name()}`, (value: string | null) => {
      if (given !== null) {
        const remedy = REMEDY[long ?? ""] ?? "leave one out";
        throw new UserError(`Cannot use ${long} twice: found "${given}" and "${value ?? ""}"; ${remedy}`, 2);
      }
      given = value ?? "";
    });
  }
}
