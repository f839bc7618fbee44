import { mkdirSync } from "node:fs";
import { dirname } from "node:path";
import { build } from "esbuild";
import { packageFile } from "../../src/workspace/package-file.ts";

/** Bundles a script of this folder so that it can run as a process of its own; gives the file, to be taken away by the caller. */
export async function builtScript(name: string): Promise<string> {
  const outfile = packageFile(`node_modules/.cache/framelife-tests/${name}-${process.pid}.mjs`);
  mkdirSync(dirname(outfile), { recursive: true });
  await build({
    entryPoints: [packageFile(`tests/fuzz/${name}.ts`)],
    outfile,
    bundle: true,
    packages: "external",
    format: "esm",
    platform: "node",
    jsx: "automatic",
    jsxImportSource: "preact",
  });
  return outfile;
}
