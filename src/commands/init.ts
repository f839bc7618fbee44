import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { Command } from "commander";
import { UserError } from "../errors.ts";
import type { Surroundings } from "./surroundings.ts";

/** `framelife init`: a new workspace to be edited; nothing that is there is written over. */
export function initCommand(around: Surroundings): Command {
  return new Command("init")
    .description("make a workspace: a configuration and a pipeline, both commented, to be edited")
    .argument("[folder]", "where; this folder if not given", ".")
    .action(async (folder: string) => {
      const { starterFiles } = await import("../workspace/starter.ts");
      const target = resolve(around.folder, folder);
      const there = Object.keys(starterFiles).find((path) => existsSync(join(target, path)));
      if (there !== undefined) {
        throw new UserError(
          `Cannot make a workspace in ${target}: ${there} is there already; edit it, or name another folder`,
        );
      }
      for (const [path, text] of Object.entries(starterFiles)) {
        mkdirSync(dirname(join(target, path)), { recursive: true });
        writeFileSync(join(target, path), text, { flag: "wx" });
      }
      mkdirSync(join(target, "exports"), { recursive: true });
      around.print(
        `Made a workspace in ${target}. Put the exports into exports/, edit framelife.yaml and pipelines/cards.yaml to say what their columns mean, then: framelife run`,
      );
    });
}
