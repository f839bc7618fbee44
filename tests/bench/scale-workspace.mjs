// A workspace of one size, and the jobs done in it.
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { timedNode } from "./measure.mjs";
import { PEERS } from "./scale-peers.mjs";

const main = fileURLToPath(new URL("../../dist/src/main.js", import.meta.url));
if (!existsSync(main)) throw new Error('There is no build: run "npm run bench -- scale"');

/** What must have been done before a job is timed; the others want `run`, which keeps the lives. */
const NEEDS = { ingest: null, run: null, "run-many": null, lives: "ingest" };

export class ScaleWorkspace {
  #folder;
  #limit;
  #isR;
  #done = new Set();
  /** Why no job can be done, or null. */
  #trouble = null;

  constructor(folder, { limit, isR }) {
    this.#folder = folder;
    this.#limit = limit;
    this.#isR = isR;
  }

  /** Seconds that it takes to make one of so many rebuilds. */
  make({ rows, fleets, seed }) {
    const numbers = { "--rebuilds": rows, "--fleets": fleets, "--seed": seed };
    const args = Object.entries(numbers).flatMap(([option, number]) => [option, String(number)]);
    const { seconds, trouble } = timedNode([main, "--quiet", "simulate", ...args, "--out", this.#folder], {});
    if (trouble !== null) this.#trouble = `there is no workspace: ${trouble}`;
    return seconds;
  }

  /** What a job took, its peer beside it; or `trouble`, why it was not done. */
  measure(job) {
    this.#trouble ??= this.#prepare(job.name);
    if (this.#trouble !== null) return { trouble: this.#trouble };
    const { stderr, ...run } = this.#time(job.args);
    if (run.trouble !== null) return { ...run, trouble: `${run.trouble}${lastLine(stderr)}` };
    const peer = PEERS[job.peer]?.({
      ...{ folder: this.#folder, limit: this.#limit, isR: this.#isR },
      lives: () => this.#livesOf(job),
    });
    return { ...run, ...(peer !== undefined && { peer: { ...peer, stderr: undefined } }) };
  }

  #time(args) {
    this.#done.add(args[0]);
    return timedNode([main, "--quiet", ...args], { cwd: this.#folder, limit: this.#limit });
  }

  #prepare(name) {
    const need = name in NEEDS ? NEEDS[name] : "run";
    if (need === null || this.#done.has(need)) return null;
    const { trouble } = this.#time([need]);
    // Where run took too long its records are there, and each question derives the lives itself.
    if (trouble === null || existsSync(join(this.#folder, "store", "framelife.duckdb"))) return null;
    return `framelife ${need}: ${trouble}`;
  }

  /** How many lives a question goes by. */
  #livesOf({ args }) {
    const slot = args.includes("--slot") ? `where slot = '${args[args.indexOf("--slot") + 1]}'` : "";
    const sql = `select count(*)::integer as lives from life ${slot}`;
    const options = { cwd: this.#folder, encoding: "utf8" };
    const { stdout } = spawnSync(process.execPath, [main, "--quiet", "query", sql, "--json"], options);
    return JSON.parse(stdout)[0].lives;
  }
}

function lastLine(stderr) {
  const line = stderr
    .trim()
    .split("\n")
    .findLast((one) => !one.startsWith("PEAK"));
  return line ? `: ${line}` : "";
}
