// Prints what becomes of simulated fleets. Arguments: seed (2026), fleets a row (200), part of the name of the rows wanted (all).
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "esbuild";

const [seed = "2026", fleets = "200", among = ""] = process.argv.slice(2);
const folder = mkdtempSync(join(tmpdir(), "framelife-offenders-"));
try {
  const outfile = join(folder, "figures.cjs");
  const entryPoints = [fileURLToPath(new URL("./figures.ts", import.meta.url))];
  await build({ entryPoints, outfile, bundle: true, format: "cjs", platform: "node", target: "node20" });
  const { figureLines } = await import(pathToFileURL(outfile).href);
  for (const line of figureLines(Number(seed), Number(fleets), among)) process.stdout.write(`${line}\n`);
} finally {
  rmSync(folder, { recursive: true });
}
