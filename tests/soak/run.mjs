// Ingest, questions and report, cycle after cycle, under faults of all kinds. npm run soak -- --cycles 500 --seed 1
import { mkdirSync, rmSync } from "node:fs";
import { dirname } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { parseArgs } from "node:util";
import { build } from "esbuild";

const { values } = parseArgs({ options: { cycles: { type: "string" }, seed: { type: "string" } } });
const [cycles, seed] = [Number(values.cycles ?? 500), Number(values.seed ?? 20261126)];
const script = fileURLToPath(
  new URL(`../../node_modules/.cache/framelife-tests/soak-${process.pid}.mjs`, import.meta.url),
);
const program = fileURLToPath(new URL("../../dist/src/main.js", import.meta.url));
mkdirSync(dirname(script), { recursive: true });
// So that the small disk is let go of.
for (const signal of ["SIGINT", "SIGTERM"]) process.once(signal, () => process.exit(130));
try {
  const entryPoints = [fileURLToPath(new URL("./soak.ts", import.meta.url))];
  await build({ entryPoints, outfile: script, bundle: true, packages: "external", format: "esm", platform: "node" });
  const { soak } = await import(pathToFileURL(script).href);
  const onCycle = (cycle, did, faults) => {
    process.stdout.write(`${cycle} ${did.join("; ")}\n`);
    for (const fault of faults) process.stdout.write(`  WRONG: ${fault}\n`);
  };
  const { faults, troubles, killed, refused, seconds, growth } = await soak({ program, cycles, seed, onCycle });
  const most = Math.max(...growth).toFixed(2);
  const made = Object.entries(troubles).map(([name, times]) => `${times} ${name}`);
  process.stdout.write(
    `seed ${seed}: ${cycles} cycles in ${Math.round(seconds)} s; ${made.join(", ")}; ${killed} killed in the middle, ${refused} refused\n`,
  );
  process.stdout.write(`store at most ${most} times a fresh one; ${faults.length} faults\n`);
  if (faults.length > 0) process.exitCode = 1;
} finally {
  rmSync(script, { force: true });
}
