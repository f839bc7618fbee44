import { cpSync, existsSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { Command } from "commander";
import { UserError } from "../errors.ts";
import { packageFile } from "../workspace/package-file.ts";
import { runWorkspace } from "./run.ts";
import type { Surroundings } from "./surroundings.ts";

/** Only a folder that carries this file is ever replaced. */
const MARK = ".framelife-demo";

/** `framelife demo`: the main job on a copy of the sample workspace. */
export function demoCommand(around: Surroundings): Command {
  return new Command("demo")
    .description(
      "run the whole job on a copy of the sample workspace: a shop of our invention, three fleets, nine years",
    )
    .option("--out <folder>", "where the copy goes; an earlier copy there is replaced", "out/demo")
    .action(async (options: { out: string }) => {
      const target = resolve(around.folder, options.out);
      if (existsSync(target) && readdirSync(target).length > 0 && !existsSync(join(target, MARK))) {
        throw new UserError(
          `Cannot put the demo into ${target}: the folder holds something else; name another with --out`,
        );
      }
      rmSync(target, { recursive: true, force: true });
      cpSync(packageFile("sample-data"), target, { recursive: true });
      writeFileSync(join(target, MARK), "A copy of the sample workspace; the next demo replaces it.\n");
      const { readWorkspace } = await import("../workspace/workspace.ts");
      await runWorkspace(around, readWorkspace(target), "report");
    });
}
