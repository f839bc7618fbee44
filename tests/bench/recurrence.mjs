// Rebuild histories: the mean cumulative function in process against R in the same run, and "framelife offenders" as a whole process.
// Arguments: rows of histories (1,000,000 of a quarter as many units; R takes a minute for them), units of offenders (100,000).
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { DuckDBInstance } from "@duckdb/node-api";
import { build } from "esbuild";
import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { hasR, medianRun, runPeer, showRatio, timed, timedProgram } from "./measure.mjs";

const size = Number(process.argv[2] ?? 1_000_000);
const units = Number(process.argv[3] ?? 100_000);
const source = fileURLToPath(new URL("../../src/stats/recurrence/mean-count.ts", import.meta.url));
const CALLS = 5;

/** Histories of some two failures a unit and an end, in whole hours: of each unit its rows, by age. */
function drawnHistories(rows) {
  const random = xoroshiro128plus(20_261_126);
  const columns = {
    id: new Int32Array(rows),
    start: new Float64Array(rows),
    stop: new Float64Array(rows),
    event: new Int32Array(rows),
  };
  let [unit, age, end] = [0, 0, 12_000];
  for (let row = 0; row < rows; row++) {
    const next = age + Math.ceil(4500 * (-Math.log1p(-uniformFloat64(random))) ** (1 / 1.6));
    const failed = next < end && row < rows - 1;
    columns.id[row] = unit;
    columns.start[row] = age;
    columns.stop[row] = failed ? next : end;
    columns.event[row] = failed ? 1 : 0;
    age = failed ? next : 0;
    if (failed) continue;
    unit++;
    end = 9000 + Math.floor(6000 * uniformFloat64(random));
  }
  return columns;
}

function asEvents({ id, stop, event }) {
  const failed = Array.from(id.keys()).filter((row) => event[row] === 1);
  const last = Array.from(id.keys()).filter((row) => event[row] === 0);
  return {
    unit: Int32Array.from(failed, (row) => id[row]),
    time: Float64Array.from(failed, (row) => stop[row]),
    entry: new Float64Array(last.length),
    end: Float64Array.from(last, (row) => stop[row]),
  };
}

async function meanCounts(folder) {
  const histories = drawnHistories(size);
  for (const [name, values] of Object.entries(histories)) writeFileSync(join(folder, name), values);
  const outfile = join(folder, "mean-count.cjs");
  await build({ entryPoints: [source], outfile, bundle: true, minify: true, platform: "node", format: "cjs" });
  const { meanCumulativeFunction } = (await import(pathToFileURL(outfile).href)).default;
  const events = asEvents(histories);
  const calls = Array.from({ length: CALLS }, () => timed(() => meanCumulativeFunction(events, { level: 0.95 })));
  const [, seconds, cpu] = runPeer("mean-count", folder, size).trim().split(" ");
  console.log(`${size.toLocaleString("en-US")} rows of histories`);
  showRatio(
    "mean cumulative function with robust error",
    [{ ...medianRun(calls), first: calls[0].seconds }],
    [{ seconds: Number(seconds), cpu: Number(cpu) }],
  );
}

/** Units of which one in a thousand fails four times as often; where they move, at each rebuild to another of some positions. */
async function offenders(folder, positions) {
  const instance = await DuckDBInstance.create(":memory:");
  const connection = await instance.connect();
  const table = join(folder, `histories-${positions}.parquet`);
  const at = positions === 0 ? "" : `, 'P' || ((u + 7919 * k) % ${positions}) as position`;
  await connection.run("select setseed(0.25)");
  await connection.run(`create table gap as
    select u, k, ceil(3000 * pow(-ln(1 - random()), 1 / 1.6) / if(u % 1000 = 0, 4, 1)) as gap from range(${units}) us(u), range(40) ks(k)`);
  await connection.run(`copy (
    with failure as (select u, k, sum(gap) over (partition by u order by k) as time from gap qualify time < 12000)
    select 'F' || u as unit, time, 1 as event${at} from failure
    union all
    select 'F' || u, 12000, 0${at} from (from range(${units}) us(u) left join failure using (u) select u, coalesce(max(k) + 1, 0) as k group by u)
    ) to '${table}' (format parquet)`);
  connection.closeSync();
  instance.closeSync();
  const run = timedProgram(["offenders", "--from", table, "--json"], folder);
  console.log(
    `framelife offenders, ${units.toLocaleString("en-US")} units${positions === 0 ? "" : `, moving among ${positions.toLocaleString("en-US")} positions`}: ${run.seconds.toFixed(1)} s, ${run.cpu.toFixed(1)} CPU s, peak ${run.peak.toFixed(0)} MB`,
  );
}

const folder = mkdtempSync(join(tmpdir(), "framelife-bench-"));
try {
  mkdirSync(folder, { recursive: true });
  await offenders(folder, 0);
  await offenders(folder, Math.ceil(0.3 * units));
  if (hasR()) await meanCounts(folder);
} finally {
  rmSync(folder, { recursive: true });
}
