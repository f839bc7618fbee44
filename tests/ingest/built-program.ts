import { type ChildProcess, type SpawnSyncReturns, spawn, spawnSync } from "node:child_process";
import { mkdirSync, rmSync } from "node:fs";
import { dirname } from "node:path";
import { build } from "esbuild";
import { afterAll, beforeAll } from "vitest";
import { packageFile } from "../../src/workspace/package-file.ts";

const script = packageFile(`node_modules/.cache/framelife-tests/program-${process.pid}.mjs`);

/** Builds the program before the tests of a file, as one script, and takes it away after them. */
export function builtProgram(): {
  run: (folder: string, ...args: string[]) => SpawnSyncReturns<string>;
  /** The same as another user of the system. */
  runAs: (uid: number, folder: string, ...args: string[]) => SpawnSyncReturns<string>;
  start: (folder: string, ...args: string[]) => ChildProcess;
  /** The file that it lies in. */
  script: string;
} {
  beforeAll(async () => {
    mkdirSync(dirname(script), { recursive: true });
    await build({
      entryPoints: [packageFile("src/main.ts")],
      bundle: true,
      platform: "node",
      format: "esm",
      packages: "external",
      jsx: "automatic",
      jsxImportSource: "preact",
      outfile: script,
      logLevel: "error",
    });
  });
  afterAll(() => rmSync(script, { force: true }));
  return {
    run: (folder, ...args) => spawnSync(process.execPath, [script, ...args], { cwd: folder, encoding: "utf8" }),
    runAs: (uid, folder, ...args) =>
      spawnSync(process.execPath, [script, ...args], { cwd: folder, encoding: "utf8", uid }),
    start: (folder, ...args) => spawn(process.execPath, [script, ...args], { cwd: folder, stdio: "ignore" }),
    script,
  };
}
