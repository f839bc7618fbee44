// Inputs that nobody means: exports, pipelines and questions spoilt at random. npm run fuzz -- --seconds 1800 --seed 1, or --case N of a seed
import { mkdirSync, rmSync } from "node:fs";
import { dirname } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "esbuild";

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const script = here(`../../node_modules/.cache/framelife-tests/fuzz-main-${process.pid}.mjs`);
mkdirSync(dirname(script), { recursive: true });
try {
  const options = { bundle: true, packages: "external", format: "esm", platform: "node" };
  await build({ ...options, entryPoints: [here("./main.ts")], outfile: script });
  const { main } = await import(pathToFileURL(script).href);
  if (!(await main((text) => process.stdout.write(`${text}\n`)))) process.exitCode = 1;
} finally {
  rmSync(script, { force: true });
}
