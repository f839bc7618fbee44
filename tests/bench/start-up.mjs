// Whole processes against `node -e 0` in the same run, interleaved; medians, and the range of the ratios pair by pair.
import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const main = fileURLToPath(new URL("../../dist/src/main.js", import.meta.url));
if (!existsSync(main)) throw new Error('There is no build: run "npm run bench"');
const rounds = Number(process.argv[2] ?? 15);
const folder = mkdtempSync(join(tmpdir(), "framelife-bench-"));
const demo = join(folder, "demo");

const commands = {
  "node -e 0": ["-e", "0"],
  "--help": [main, "--help"],
  "a usage error": [main, "life", "--bogus"],
  'query "select 1"': [main, "--workspace", demo, "query", "select 1"],
  "life --interval profile": [main, "--workspace", demo, "life", "--interval", "profile"],
  intervals: [main, "--workspace", demo, "intervals"],
};

/** Wall time of one process, in milliseconds. */
function run(args) {
  const begun = process.hrtime.bigint();
  spawnSync(process.execPath, args, { stdio: "ignore" });
  return Number(process.hrtime.bigint() - begun) / 1e6;
}

const median = (values) => values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)];

try {
  console.log(`demo ${(run([main, "demo", "--out", demo]) / 1000).toFixed(1)} s`);
  const times = Object.fromEntries(Object.keys(commands).map((name) => [name, []]));
  for (let round = 0; round < rounds; round++) {
    for (const [name, args] of Object.entries(commands)) times[name].push(run(args));
  }
  const bare = times["node -e 0"];
  for (const [name, own] of Object.entries(times)) {
    const ratios = own.map((time, round) => time / bare[round]);
    const [least, most] = [Math.min(...ratios), Math.max(...ratios)].map((ratio) => ratio.toFixed(2));
    console.log(`${name}: ${median(own).toFixed(0)} ms, ${median(ratios).toFixed(2)}x (${least} to ${most})`);
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
