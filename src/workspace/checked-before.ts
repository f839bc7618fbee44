import { createHash, randomBytes } from "node:crypto";
import { mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync } from "node:fs";
import { homedir } from "node:os";
import { isAbsolute, join } from "node:path";
import { isDeepStrictEqual } from "node:util";
import type { Configuration } from "./configuration.ts";

/** Set by the build: a hash of the code that checks configurations. Sources that run unbuilt remember nothing. */
declare const CHECKING_CODE: string | undefined;

/** Where checked configurations are kept, and by which code they were checked. */
export type Memory = { folder: string; code: string };

// Not in the workspace: those come from others too, and what they say must be checked here.
const MEMORY: Memory | undefined =
  typeof CHECKING_CODE === "string" ? { folder: cacheFolder(), code: CHECKING_CODE } : undefined;

const MOST_KEPT = 50;

/**
 * What a configuration's text was found to say, if this very text was checked before by this very code: reading YAML and checking it takes
 * longer than opening the store.
 */
export function checkedBefore(text: string, memory = MEMORY): Configuration | undefined {
  if (memory === undefined) return undefined;
  try {
    return JSON.parse(readFileSync(join(memory.folder, nameOf(text, memory)), "utf8")) as Configuration;
  } catch {
    return undefined;
  }
}

/** Keeps it for the next time. Where that can't be done, the next time is as slow as this one. */
export function rememberChecked(text: string, configuration: Configuration, memory = MEMORY): void {
  if (memory === undefined) return;
  const said = JSON.stringify(configuration);
  if (!isDeepStrictEqual(JSON.parse(said), configuration)) return;
  const { folder } = memory;
  const partial = join(folder, `${randomBytes(6).toString("hex")}.partial`);
  const done = quietly(() => {
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    writeFileSync(partial, said, { mode: 0o600, flag: "wx" });
    renameSync(partial, join(folder, nameOf(text, memory)));
    forgetOldest(folder);
  });
  if (!done) quietly(() => rmSync(partial, { force: true }));
}

/** Whether it could be done. */
function quietly(act: () => void): boolean {
  try {
    act();
    return true;
  } catch {
    return false;
  }
}

function nameOf(text: string, { code }: Memory): string {
  return `${createHash("sha256").update(code).update("\0").update(text).digest("hex")}.json`;
}

function forgetOldest(folder: string): void {
  const kept = readdirSync(folder).map((name) => {
    const path = join(folder, name);
    return { path, at: statSync(path, { throwIfNoEntry: false })?.mtimeMs ?? 0 };
  });
  const old = kept.toSorted((a, b) => b.at - a.at).slice(MOST_KEPT);
  for (const { path } of old) rmSync(path, { force: true });
}

/** The user's own folder for what can be made anew: by the XDG Base Directory Specification, else as the system has it. */
function cacheFolder(): string {
  const { XDG_CACHE_HOME: named, LOCALAPPDATA: local } = process.env;
  return join(
    named !== undefined && isAbsolute(named)
      ? named
      : process.platform === "win32"
        ? (local ?? join(homedir(), "AppData", "Local"))
        : join(homedir(), process.platform === "darwin" ? "Library/Caches" : ".cache"),
    "framelife",
  );
}
