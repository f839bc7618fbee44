// Lives out of the engine into typed arrays, against the engine's own rows of the same query, in one process, interleaved: an age and whether it
// ended in a failure, as most questions fetch their columns; and put by group, with number and unit, as "life" fetches what it fits.
// Arguments: lives (1,000,000), rounds (7).
import { rmSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { DuckDBInstance } from "@duckdb/node-api";
import { bundled } from "./bundled.mjs";
import { median } from "./measure.mjs";

const size = Number(process.argv[2] ?? 1_000_000);
const rounds = Number(process.argv[3] ?? 7);
const from = (path) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const outfile = from("dist/bench-fetch.mjs");

const GROUPS = 1000;
const PLAIN = "select age, failed from life";
const GROUPED = "select group_number, age, failed::utinyint as ended, life_id, entity from life";
const CONTENTS = `
  export { columns } from "./store/columns.ts";
  export { groupedColumns } from "./store/grouped-columns.ts";
`;

/** Seconds that a fetch takes, the query with it; what it gave is let go of before the next. */
async function timed(fetch) {
  const begun = process.hrtime.bigint();
  const lives = await fetch();
  const seconds = Number(process.hrtime.bigint() - begun) / 1e9;
  if (lives !== size) throw new Error(`Fetched ${lives} lives of ${size}`);
  return seconds;
}

async function compare(name, own, peer) {
  const times = [[], []];
  for (let round = 0; round < rounds; round++) {
    for (const [way, fetch] of [own, peer].entries()) times[way].push(await timed(fetch));
  }
  const ratios = times[0].map((seconds, round) => seconds / times[1][round]).toSorted((a, b) => a - b);
  const [ours, rows] = times.map((taken) => `${((median(taken) / size) * 1e9).toFixed(0)} ns`);
  const range = `${ratios[0].toFixed(3)} to ${ratios.at(-1).toFixed(3)}`;
  console.log(`${name}: ${ours} a life, getRows() ${rows}: ${median(ratios).toFixed(3)}x (${range})`);
}

try {
  const { columns, groupedColumns } = await bundled(CONTENTS, from("src"), outfile);
  const instance = await DuckDBInstance.create(":memory:");
  const connection = await instance.connect();
  await connection.run(
    `create table life as
     select (life_id % ${GROUPS})::integer as group_number, ceil(9000 * pow(-ln(1 - random()), 1 / 1.8)) as age, random() < 0.3 as failed,
            life_id::integer as life_id, (life_id // 4)::integer as entity
     from range(${size}) as lives(life_id)`,
  );
  const rowsOf = (query) => async () => (await (await connection.run(query)).getRows()).length;
  const plain = async () => (await columns(connection, PLAIN, { age: "number", failed: "boolean" })).age.length;
  const sizes = Int32Array.from({ length: GROUPS }, (_, group) => Math.ceil((size - group) / GROUPS));
  const shape = { age: "number", ended: "small", number: "integer", entity: "integer" };
  const grouped = async () => (await groupedColumns(connection, [GROUPED], sizes, shape)).columns.age.length;
  await compare("age and failure", plain, rowsOf(PLAIN));
  await compare("five columns, by group", grouped, rowsOf(GROUPED));
  connection.closeSync();
  instance.closeSync();
} finally {
  rmSync(outfile, { force: true });
}
