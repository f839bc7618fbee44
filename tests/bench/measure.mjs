// What the benches of statistics share: whether R is there, drawn lives, medians, and ratios taken pair by pair.
import { spawnSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";

const main = fileURLToPath(new URL("../../dist/src/main.js", import.meta.url));
const peers = fileURLToPath(new URL("./peers.R", import.meta.url));

/** Says so where R is not there to be compared with. */
export function hasR() {
  const found = spawnSync("Rscript", ["-e", "library(survival)"]).status === 0;
  if (!found) console.log("SKIPPED: nothing to compare with: there is no Rscript with the package survival");
  return found;
}

/** Runs a job of peers.R, and gives what it prints. */
export function runPeer(job, folder, size) {
  const { status, stdout, stderr } = spawnSync("Rscript", [peers, job, folder, String(size)], { encoding: "utf8" });
  if (status !== 0) throw new Error(`R stopped: ${stderr}`);
  return stdout;
}

/** Weibull lives of shape 1.8, 3 in 10 failed: as whole hours, and the same before they were rounded. */
export function drawnLives(size, groups) {
  const random = xoroshiro128plus(20_261_126);
  const weibull = (scale) => scale * (-Math.log1p(-uniformFloat64(random))) ** (1 / 1.8);
  const columns = {
    time: new Float64Array(size),
    exact: new Float64Array(size),
    failed: new Uint8Array(size),
    group: new Int32Array(size),
  };
  for (let life = 0; life < size; life++) {
    const [end, removal] = [weibull(9000), weibull(5625)];
    columns.exact[life] = Math.min(end, removal);
    columns.time[life] = Math.ceil(columns.exact[life]);
    columns.failed[life] = end <= removal ? 1 : 0;
    columns.group[life] = Math.floor(uniformFloat64(random) * groups);
  }
  return columns;
}

/** Three covariates, a reading, a level of two and another reading, and the lives as long as they make them, in whole hours. */
export function drawnCovariates({ exact }) {
  const random = xoroshiro128plus(20_261_127);
  const draw = (of) => Float64Array.from(exact, () => of(uniformFloat64(random)));
  const covariates = {
    play: draw((share) => 2 + 5 * share),
    lube: draw((share) => Number(share < 0.4)),
    ring: draw((share) => 60 + 30 * share),
  };
  const { play, lube, ring } = covariates;
  const effect = (life) => -0.05 * (play[life] - 4.5) + 0.2 * lube[life] + 0.004 * (ring[life] - 75);
  return { ...covariates, regressed: exact.map((age, life) => Math.ceil(age * Math.exp(effect(life)))) };
}

/** Columns as peers.R reads them. */
export function writeColumns(folder, { failed, ...columns }) {
  for (const [name, values] of Object.entries({ ...columns, failed: Int32Array.from(failed) })) {
    writeFileSync(join(folder, name), values);
  }
}

export const median = (values) => values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)];

/** Seconds, by the wall and of the CPU, that something takes in this process. */
export function timed(job) {
  const [begun, used] = [process.hrtime.bigint(), process.cpuUsage()];
  job();
  const { user, system } = process.cpuUsage(used);
  return { seconds: Number(process.hrtime.bigint() - begun) / 1e9, cpu: (user + system) / 1e6 };
}

const PEAK = "data:text/javascript,process.on('exit',()=>console.error('PEAK',process.resourceUsage().maxRSS))";

/** Seconds, CPU seconds and peak megabytes of the program, run with arguments in a folder. */
export function timedProgram(args, cwd) {
  return succeeded(timedNode([main, ...args], { cwd }));
}

/** Seconds and CPU seconds of a job of peers.R as a whole process. */
export function timedPeer(job, folder, size) {
  return succeeded(timedR(job, folder, size));
}

/** The same, ended well or not, and ended after `limit` seconds. */
export function timedR(job, folder, size, limit) {
  return timedChild("Rscript", [peers, job, folder, String(size)], { cwd: folder, limit });
}

/** A process of node, ended well or not, and ended after `limit` seconds: also its peak megabytes, NaN where it was ended. */
export function timedNode(args, { cwd, limit }) {
  const run = timedChild(process.execPath, ["--import", PEAK, ...args], { cwd, limit });
  return { ...run, peak: Number(/PEAK (\d+)/.exec(run.stderr)?.[1] ?? Number.NaN) / 1024 };
}

/** The engine alone: a process that runs statements on a database file. */
export function timedEngine(database, statements, { cwd, limit }) {
  return timedNode(["--input-type=module", "--eval", ENGINE, database, JSON.stringify(statements)], { cwd, limit });
}

const ENGINE = `
import { DuckDBInstance } from ${JSON.stringify(import.meta.resolve("@duckdb/node-api"))};
const instance = await DuckDBInstance.create(process.argv[1]);
const connection = await instance.connect();
for (const statement of JSON.parse(process.argv[2])) await connection.run(statement);
connection.closeSync();
instance.closeSync();`;

/** A run that ended well; else its trouble as an error. */
export function succeeded(run) {
  if (run.trouble !== null) throw new Error(`A process failed: ${run.trouble}: ${run.stderr}`);
  return run;
}

function timedChild(command, args, { cwd, limit }) {
  const [begun, used] = [process.hrtime.bigint(), childrenCpu()];
  const { status, signal, error, stderr } = spawnSync(command, args, {
    encoding: "utf8",
    cwd,
    stdio: ["ignore", "ignore", "pipe"],
    maxBuffer: 1 << 28,
    killSignal: "SIGKILL",
    ...(limit !== undefined && { timeout: 1000 * limit }),
  });
  const seconds = Number(process.hrtime.bigint() - begun) / 1e9;
  return {
    seconds,
    cpu: childrenCpu() - used,
    trouble: troubleOf({ status, signal, error, limit }),
    stderr: stderr ?? "",
  };
}

/** Why a process did not end well; null where it did. */
function troubleOf({ status, signal, error, limit }) {
  if (error?.code === "ETIMEDOUT") return `over ${limit} s`;
  if (error !== undefined) return error.message;
  if (signal !== null) return `ended by ${signal}`;
  return status === 0 ? null : `exit status ${status}`;
}

/** CPU seconds of all children that have ended, in Linux's clock ticks of 10 ms; NaN where the system does not say. */
function childrenCpu() {
  if (process.platform !== "linux") return Number.NaN;
  const fields = readFileSync("/proc/self/stat", "utf8").split(") ")[1].split(" ");
  return (Number(fields[13]) + Number(fields[14])) / 100;
}

/** The medians of the measures of several runs. */
export function medianRun(runs) {
  return { seconds: median(runs.map(({ seconds }) => seconds)), cpu: median(runs.map(({ cpu }) => cpu)) };
}

/** One line: our times, theirs, and how many times faster we are round by round, by the wall and by CPU time. */
export function showRatio(name, own, other) {
  const seconds = (runs) => `${median(runs.map((run) => run.seconds)).toFixed(3)} s`;
  const first = own[0].first === undefined ? "" : ` (the very first ${own[0].first.toFixed(3)} s)`;
  console.log(
    `${name}: ${seconds(own)}${first}, R ${seconds(other)}: ${times(own, other, "seconds")} by the wall, ${times(own, other, "cpu")} of CPU time`,
  );
}

function times(own, other, measure) {
  const ratios = other.map((run, round) => run[measure] / own[round][measure]);
  const [least, most] = [Math.min(...ratios), Math.max(...ratios)].map((ratio) => ratio.toFixed(1));
  return `${median(ratios).toFixed(1)} times faster (${least} to ${most})`;
}
