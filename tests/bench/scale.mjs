// Each job as a whole process on workspaces of 1e5, 1e6 and, with --largest, 1e7 rebuilds that "framelife simulate" makes: wall time, CPU time, peak
// memory, growth from size to size, and peers in the same run. npm run bench -- scale [--sizes 100000,1000000] [--largest] [--fleets 200]
// [--limit 1800] [--jobs ingest,life] [--seed 1] [--folder DIR] [--json FILE]
import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { availableParallelism, totalmem } from "node:os";
import { dirname, join, resolve } from "node:path";
import { hasR } from "./measure.mjs";
import { scaleOptions } from "./scale-options.mjs";
import { goalLine, goalsOf, growthLine, growthOf, resultLine } from "./scale-table.mjs";
import { ScaleWorkspace } from "./scale-workspace.mjs";

const { sizes, fleets, limit, seed, jobs, folder, json } = scaleOptions(process.argv.slice(2));
const root = mkdtempSync(join(resolve(folder), "framelife-scale-"));
process.once("exit", () => rmSync(root, { recursive: true, force: true }));
for (const signal of ["SIGINT", "SIGTERM"]) process.once(signal, () => process.exit(130));

const isR = hasR();
const results = [];
for (const rows of sizes) {
  doJobs(rows, 1, "one");
  doJobs(rows, fleets, "many");
}
for (const line of growthOf(results).map(growthLine)) console.log(line);
for (const goal of new Set(results.flatMap(({ goals }) => goals))) console.log(goalLine(goal, results));

function doJobs(rows, number, on) {
  const own = jobs.filter((job) => job.on === on);
  if (own.length === 0) return;
  const place = join(root, `${on}-${rows}`);
  const workspace = new ScaleWorkspace(place, { limit, isR });
  const seconds = workspace.make({ rows, fleets: number, seed });
  console.log(`${rows.toLocaleString("en-US")} rows, fleets: ${number}; made in ${seconds.toFixed(1)} s`);
  for (const job of own) {
    const { name, title, goals } = job;
    const result = { name, title, goals, rows, fleets: number, ...workspace.measure(job) };
    results.push(result);
    console.log(resultLine(result));
    keep();
  }
  rmSync(place, { recursive: true, force: true });
}

/** After each job, so that a bench that is ended leaves what it has measured. */
function keep() {
  if (json === undefined) return;
  mkdirSync(dirname(resolve(json)), { recursive: true });
  const commit = execFileSync("git", ["rev-parse", "--short", "HEAD"], { encoding: "utf8" }).trim();
  const machine = { node: process.version, processors: availableParallelism(), memory: totalmem() };
  const told = results.map((result) => ({ ...result, standing: goalsOf(result) }));
  const found = { commit, machine, seed, limit, results: told, growth: growthOf(results) };
  writeFileSync(json, `${JSON.stringify(found, null, 2)}\n`);
}
