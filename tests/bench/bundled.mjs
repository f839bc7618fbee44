// Modules of the program for a bench that asks them in its own process.
import { pathToFileURL } from "node:url";
import { build } from "esbuild";

/** The module that TypeScript `contents`, with paths from the folder `resolveDir`, make; written to `outfile`, whence packages are found. */
export async function bundled(contents, resolveDir, outfile) {
  await build({
    stdin: { contents, resolveDir, loader: "ts" },
    outfile,
    bundle: true,
    format: "esm",
    platform: "node",
    packages: "external",
    logLevel: "warning",
  });
  return import(pathToFileURL(outfile).href);
}
