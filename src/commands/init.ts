import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { Command } from "commander";
import { UserError } from "../errors.ts";
import type { Surroundings } from "./surroundings.ts";

/** `framelife init`: a new workspace, drafted from exports or to be edited; nothing that is there is written over. */
export function initCommand(around: Surroundings): Command {
  return new Command("init")
    .description("make a workspace: drafted from exports, or a configuration and a pipeline, commented, to be edited")
    .argument("[folder]", "where; this folder if not given", ".")
    .option(
      "--from <files...>",
      "exports to draft it from: they are copied in, and what they leave open is asked or marked",
    )
    .action(async (folder: string, { from }: { from?: string[] }) => {
      const target = resolve(around.folder, folder);
      if (existsSync(join(target, "framelife.yaml"))) throw isThere(target, "framelife.yaml");
      if (from === undefined) return makeEmpty(around, target);
      const { initFrom } = await import("./init-from.ts");
      await initFrom(around, target, folder, from);
    });
}

async function makeEmpty(around: Surroundings, target: string): Promise<void> {
  const { starterFiles } = await import("../workspace/starter.ts");
  const there = Object.keys(starterFiles).find((path) => existsSync(join(target, path)));
  if (there !== undefined) throw isThere(target, there);
  for (const [path, text] of Object.entries(starterFiles)) {
    mkdirSync(dirname(join(target, path)), { recursive: true });
    writeFileSync(join(target, path), text, { flag: "wx" });
  }
  mkdirSync(join(target, "exports"), { recursive: true });
  around.print(
    `Made a workspace in ${target}. Put the exports into exports/, edit framelife.yaml and pipelines/cards.yaml to say what their columns mean, then: framelife run`,
  );
}

function isThere(target: string, path: string): UserError {
  return new UserError(
    `Cannot make a workspace in ${target}: ${path} is there already; edit it, or name another folder`,
  );
}
