// "framelife life" as a whole process against an R script on raw columns, in the same run, interleaved: one group, and 1,000 groups.
// Arguments: lives (1,000,000; 10000000 takes a quarter of an hour and 2 GB of disk), rounds (3).
import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { DuckDBInstance } from "@duckdb/node-api";
import { keepLivesIn } from "./keep-lives.mjs";
import { drawnLives, hasR, showRatio, timedPeer, timedProgram, writeColumns } from "./measure.mjs";

const main = fileURLToPath(new URL("../../dist/src/main.js", import.meta.url));
if (!existsSync(main)) throw new Error('There is no build: run "npm run bench"');
const size = Number(process.argv[2] ?? 1_000_000);
const rounds = Number(process.argv[3] ?? 3);
const GROUPS = 1000;
/** Cards of a unit: each but the last begins a life that the next one ends; the last one's still runs at the last meter round. */
const CARDS = 4;

const CONFIGURATION = `
title: Speed
fleets: [{ name: main, title: Main }]
slots: { drive_end_bearings: { title: Drive-end bearings, quantity: 2, kind: bearing } }
pipelines: [cards]
`;
const PIPELINE = `
title: Cards
record: rebuild
files: exports/cards.csv
fields:
  card: { column: Card }
  fleet: { value: main }
  unit: { column: Frame }
  removed_on: { column: Out, dates: ["%Y-%m-%d"] }
slots:
  drive_end_bearings:
    condition: { column: DE found, words: { bad: failed, good: serviceable } }
`;

/** A store made by the program from one card, and filled by SQL: what reading millions of cards would leave there. */
async function makeStore(folder) {
  mkdirSync(join(folder, "exports"));
  mkdirSync(join(folder, "pipelines"));
  writeFileSync(join(folder, "framelife.yaml"), CONFIGURATION);
  writeFileSync(join(folder, "pipelines", "cards.yaml"), PIPELINE);
  writeFileSync(join(folder, "exports", "cards.csv"), "Card,Frame,Out,DE found\nX0,X0,1985-01-01,good\n");
  const { status, stderr } = spawnSync(process.execPath, [main, "ingest", "--quiet"], {
    encoding: "utf8",
    cwd: folder,
  });
  if (status !== 0) throw new Error(`framelife ingest failed: ${stderr}`);
  const store = join(folder, "store", "framelife.duckdb");
  await fill(store, folder);
  return store;
}

async function fill(store, folder) {
  const instance = await DuckDBInstance.create(store);
  const connection = await instance.connect();
  await connection.run(`create temp table unit_life as
    select u, k, 3 * u + u % 7 + k as seed, 9000 * pow(-ln(1 - random()), 1 / 1.8) as ends, 5625 * pow(-ln(1 - random()), 1 / 1.8) as removed
    from range(${Math.ceil(size / CARDS)}) as us(u), range(${CARDS}) as ks(k)`);
  await connection.run(`create temp table served as
    select u, k, ceil(least(ends, removed)) as hours, ends <= removed and k < ${CARDS - 1} as failed,
           coalesce(sum(ceil(least(ends, removed))) over (partition by u order by k rows between unbounded preceding and 1 preceding), 0) as meter
    from unit_life`);
  const day = "date '1990-01-01' + (u % 300 + (meter / 12)::integer + 20 * k)::integer";
  await connection.run(`insert into records.rebuild_row by name
    select 1 as file_id, (${CARDS} * u + k + 10)::integer as row, 'card' as part, printf('C%d', ${CARDS} * u + k) as card, 'main' as fleet, printf('F%d', u) as unit,
           printf('P%d', u % 5000) as position, printf('Station %d', u % ${GROUPS}) as site, ${day} as removed_on, ${day} + 9 as installed_on,
           meter as hours_removed, meter as hours_installed, case when k > 0 and lag(failed) over (partition by u order by k) then 'failure' else 'planned' end as reason,
           ${CARDS} * u + k as content, 'current' as standing, false as barred
    from served`);
  await connection.run(`insert into records.fitting_row by name
    select 1 as file_id, (${CARDS} * u + k + 10)::integer as row, 'main' as fleet, printf('C%d', ${CARDS} * u + k) as card, 'drive_end_bearings' as slot, true as fitted,
           case when k > 0 and lag(failed) over (partition by u order by k) then 'failed' else 'serviceable' end as condition, 'current' as standing, false as barred
    from served`);
  await connection.run(`insert into records.reading_row by name
    select 1 as file_id, (u + 10)::integer as row, 'main' as fleet, printf('F%d', u) as unit, ${day} + 20 + (hours / 12)::integer as read_on, meter + hours as hours,
           u as content, 'current' as standing, false as barred
    from served where k = ${CARDS - 1}`);
  await connection.run("drop table unit_life");
  const table = join(folder, "lives.parquet");
  await connection.run(
    `copy (select hours as time, failed::integer as status, printf('Station %d', u % ${GROUPS}) as site from served) to '${table}' (format parquet)`,
  );
  connection.closeSync();
  instance.closeSync();
}

const OWN = {
  "life from the store, Weibull and Kaplan-Meier, profile intervals": ["whole", ["life", "--interval", "profile"]],
  "life from a Parquet table, the same": ["whole", ["life", "--from", "lives.parquet", "--interval", "profile"]],
  "life --by, 1,000 groups, from the store": ["groups", ["life", "--by", "site", "--interval", "profile"]],
  "life --by, 1,000 groups, from a Parquet table": [
    "groups",
    ["life", "--from", "lives.parquet", "--by", "site", "--interval", "profile"],
  ],
};

if (hasR()) {
  const folder = mkdtempSync(join(tmpdir(), "framelife-bench-"));
  try {
    writeColumns(folder, drawnLives(size, GROUPS));
    const store = await makeStore(folder);
    // As a shop does it once its exports are in: the lives are derived and kept, and asked of as often as people like.
    await keepLivesIn(folder);
    console.log(`${size.toLocaleString("en-US")} lives, store ${(statSync(store).size / 1e6).toFixed(0)} MB`);
    const ours = Object.fromEntries(Object.keys(OWN).map((name) => [name, []]));
    const theirs = { whole: [], groups: [] };
    for (let round = 0; round < rounds; round++) {
      for (const [name, [, args]] of Object.entries(OWN)) ours[name].push(timedProgram(args, folder));
      for (const [job, times] of Object.entries(theirs)) times.push(timedPeer(job, folder, size));
    }
    for (const [name, [job]] of Object.entries(OWN)) {
      showRatio(name, ours[name], theirs[job]);
      console.log(`  peak ${Math.max(...ours[name].map(({ peak }) => peak)).toFixed(0)} MB`);
    }
  } finally {
    if (!process.env.KEEP) rmSync(folder, { recursive: true });
    else console.log(folder);
  }
}
