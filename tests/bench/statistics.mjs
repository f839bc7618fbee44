// Statistics in process against R in the same run, interleaved. Arguments: lives (1,000,000), rounds (3).
// Ours is the median of several calls a round; the very first, before anything is compiled, is what a command pays and stands beside.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { build } from "esbuild";
import { drawnCovariates, drawnLives, hasR, medianRun, runPeer, showRatio, timed, writeColumns } from "./measure.mjs";

const size = Number(process.argv[2] ?? 1_000_000);
const rounds = Number(process.argv[3] ?? 3);
const source = fileURLToPath(new URL("../../src/stats", import.meta.url));
const ENTRY = `
  export { fitWeibull } from "./weibull/fit.ts";
  export { kaplanMeier } from "./survival/kaplan-meier.ts";
  export { logRank } from "./survival/log-rank.ts";
  export { surfaceOf } from "./fit/surface-of.ts";
  export { fitSurface } from "./fit/fit.ts";
  export { replicates } from "./fit/replicates.ts";
  export { fitAcceleratedLife } from "./regression/accelerated-life.ts";
  export { fitProportionalHazards } from "./regression/proportional-hazards.ts";
`;
const GROUPS = 4;

async function statistics(folder) {
  const outfile = join(folder, "statistics.cjs");
  const stdin = { contents: ENTRY, resolveDir: source, loader: "ts" };
  await build({ stdin, outfile, bundle: true, minify: true, platform: "node", target: "node20", format: "cjs" });
  return (await import(pathToFileURL(outfile).href)).default;
}

function jobs(stats, { time, exact, failed, group, regressed, ...covariates }) {
  const named = ["play", "lube", "ring"].map((name) => ({ name, values: covariates[name] }));
  const small = { time: time.slice(0, 200), failed: failed.slice(0, 200) };
  return {
    "weibull-ties": () => stats.fitWeibull({ time, failed }),
    "weibull-untied": () => stats.fitWeibull({ time: exact, failed }),
    "kaplan-meier": () => stats.kaplanMeier({ time, failed }, { level: 0.95, limits: "log-log" }),
    "log-rank": () => stats.logRank({ time, failed }, { group, groups: GROUPS }),
    "accelerated-life": () => stats.fitAcceleratedLife({ time: regressed, failed }, named),
    "proportional-hazards": () => stats.fitProportionalHazards({ time: regressed, failed }, named),
    bootstrap: () => {
      const surface = stats.surfaceOf(small, "weibull");
      stats.replicates(small, surface, stats.fitSurface(surface), { draws: 1000, seed: 1 });
    },
  };
}

const CALLS = 25;

/** The median of several calls, and the first of them. */
function usual(job) {
  const calls = Array.from({ length: CALLS }, () => timed(job));
  return { ...medianRun(calls), first: calls[0].seconds };
}

const TITLES = {
  "weibull-ties": "Weibull fit, whole hours",
  "weibull-untied": "Weibull fit, untied",
  "kaplan-meier": "Kaplan-Meier",
  "log-rank": "log-rank, 4 groups",
  "accelerated-life": "Weibull regression, 3 covariates",
  "proportional-hazards": "Proportional hazards, Efron, 3 covariates",
  bootstrap: "1,000 bootstrap refits of 200 lives",
};

if (hasR()) {
  const folder = mkdtempSync(join(tmpdir(), "framelife-bench-"));
  try {
    const drawn = drawnLives(size, GROUPS);
    const lives = { ...drawn, ...drawnCovariates(drawn) };
    writeColumns(folder, lives);
    const own = jobs(await statistics(folder), lives);
    const ours = Object.fromEntries(Object.keys(own).map((name) => [name, []]));
    const theirs = Object.fromEntries(Object.keys(own).map((name) => [name, []]));
    for (let round = 0; round < rounds; round++) {
      for (const [name, job] of Object.entries(own)) ours[name].push(usual(job));
      for (const line of runPeer("in-process", folder, size).trim().split("\n")) {
        const [name, seconds, cpu] = line.split(" ");
        theirs[name].push({ seconds: Number(seconds), cpu: Number(cpu) });
      }
    }
    console.log(`${size.toLocaleString("en-US")} lives in process`);
    for (const [name, title] of Object.entries(TITLES)) showRatio(title, ours[name], theirs[name]);
  } finally {
    rmSync(folder, { recursive: true });
  }
}
