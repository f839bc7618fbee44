// What jobs of the scale bench are held against, in the same run: the engine alone on the same exports, and R on as many lives.
import { mkdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import { drawnLives, timedEngine, timedR, writeColumns } from "./measure.mjs";
import { SLOTS } from "./scale-jobs.mjs";

const EXPORTS = ["cards", "units", "readings", "retirements"];
const readCsv = (file, options) => `read_csv('exports/${file}.csv', header = true, ${options})`;

/** Each export as it is, all text, into a database file. */
const BARE = EXPORTS.map((name) => `create table ${name} as select * from ${readCsv(name, "all_varchar = true")}`);

const quoted = (name) => `"${name}"`;
const slots = (of) => SLOTS.map(of).join(", ");

/** Rebuilds as the plain statement wants them, each unit's last reading behind them as its end: made beforehand, not timed. */
const REBUILDS = [
  `create table rebuilds as
   select unit, "removed on" as date_in, "hours removed" as hours, false as is_end,
          ${slots((slot, at) => `${quoted(`${slot} fitted`)} as r${at}, ${quoted(`${slot} condition`)} = 'failed' as f${at}`)}
   from ${readCsv("cards", "auto_detect = true")}
   union all by name
   select unit, "read on" as date_in, hours, true as is_end from ${readCsv("readings", "auto_detect = true")}`,
];

/** Lives of six slots with one window: a replacement ends the slot's life, the unit's last reading those that run. */
const WINDOW = [
  `create table lives as
   with since as (
     select unit, hours, is_end, [${slots((_, at) => `r${at}`)}] as renewed, [${slots((_, at) => `f${at}`)}] as failed,
            [${slots((_, at) => `last_value(case when r${at} then hours end ignore nulls) over earlier`)}] as begun
     from rebuilds
     window earlier as (partition by unit order by date_in, hours rows between unbounded preceding and 1 preceding)
   ),
   slot as (
     select unit, hours, is_end, unnest(range(${SLOTS.length})) as slot, unnest(renewed) as renewed, unnest(failed) as failed, unnest(begun) as begun
     from since
   )
   select unit, slot, hours - begun as life, coalesce(renewed and failed, false) as failed
   from slot where begun is not null and (is_end or renewed)`,
];

function engine(name, statements, before = []) {
  return ({ folder, limit }) => {
    const database = join(folder, "peer.duckdb");
    rmSync(database, { force: true });
    try {
      const made = before.length === 0 ? undefined : timedEngine(database, before, { cwd: folder, limit });
      return { name, ...(made?.trouble ? made : timedEngine(database, statements, { cwd: folder, limit })) };
    } finally {
      rmSync(database, { force: true });
    }
  };
}

/** R on as many lives, drawn, as the program has of its own; undefined where there is no R. */
function statistics(job, groups) {
  return ({ folder, limit, lives, isR }) => {
    const size = isR ? lives() : 0;
    if (size === 0) return undefined;
    const columns = join(folder, "columns");
    mkdirSync(columns, { recursive: true });
    writeColumns(columns, drawnLives(size, groups));
    try {
      return { name: `R, ${size.toLocaleString("en-US")} lives`, ...timedR(job, columns, size, limit) };
    } finally {
      rmSync(columns, { recursive: true });
    }
  };
}

export const PEERS = {
  bare: engine("bare engine, all text", BARE),
  window: engine("plain window SQL", WINDOW, REBUILDS),
  whole: statistics("whole", 1),
  groups: statistics("groups", 1000),
};
