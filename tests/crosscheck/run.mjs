// Compares our statistics with R's on drawn sets of lives. Arguments: numbers of sets (all). Without R nothing is compared.
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "esbuild";

const scripts = fileURLToPath(new URL(".", import.meta.url));
const present = spawnSync("Rscript", ["-e", "library(survival)"]).status === 0;
if (present) await compare();
else skip();

function skip() {
  process.stdout.write(
    "SKIPPED: the statistics were NOT compared with R: there is no Rscript with the package survival\n",
  );
  if (process.env.CI) process.exitCode = 1;
}

async function compare() {
  const folder = mkdtempSync(join(tmpdir(), "framelife-crosscheck-"));
  try {
    const outfile = join(folder, "crosscheck.cjs");
    const entryPoints = [fileURLToPath(new URL("./crosscheck.ts", import.meta.url))];
    await build({ entryPoints, outfile, bundle: true, format: "cjs", platform: "node", target: "node20" });
    const { crosscheck } = await import(pathToFileURL(outfile).href);
    const { text, agrees } = crosscheck(scripts, process.argv.slice(2).map(Number));
    process.stdout.write(`${text}\n`);
    if (!agrees) process.exitCode = 1;
  } finally {
    rmSync(folder, { recursive: true });
  }
}
