// Reading a CSV of 22 columns, landed alone and looked over, against the engine's bare `create table as` of the same file, whole processes in the same run.
// Arguments: rows (1,000,000), rounds (3).
import { createWriteStream, existsSync, mkdirSync, mkdtempSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Readable } from "node:stream";
import { pipeline } from "node:stream/promises";
import { fileURLToPath } from "node:url";
import { uniformInt } from "pure-rand/distribution/uniformInt";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { GOALS } from "./goals.mjs";
import { buildLanding } from "./landing.mjs";
import { median, succeeded, timedEngine, timedNode, timedProgram } from "./measure.mjs";

const main = fileURLToPath(new URL("../../dist/src/main.js", import.meta.url));
const landing = fileURLToPath(new URL("../../dist/bench-landing.mjs", import.meta.url));
if (!existsSync(main)) throw new Error('There is no build: run "npm run bench"');
const rows = Number(process.argv[2] ?? 1_000_000);
const rounds = Number(process.argv[3] ?? 3);
const folder = mkdtempSync(join(tmpdir(), "framelife-bench-"));
const file = join(folder, "exports", "cards.csv");

const HEADER =
  "Card,Frame,Type,Station,Pump,Pulled,Shop,Built,Back,Meter out,Meter in,Why,Lube,Seal,EP,Shims,Temp,Speed,Fitter,DE new,DE found,Remarks";
const CARDS_A_UNIT = 20;

/** Cards of units with 20 visits each in order of time; 2.5 % have no unit or no such day, 12 % a date or an end play of another form. */
function* cards(count) {
  const random = xoroshiro128plus(20_250_131);
  const below = (limit) => uniformInt(random, 0, limit - 1);
  const pick = (...words) => words[below(words.length)];
  let [day, meter] = [0, 0];
  for (let number = 0; number < count; number++) {
    const unit = Math.floor(number / CARDS_A_UNIT);
    if (number % CARDS_A_UNIT === 0) [day, meter] = [below(300), below(3000)];
    day += 60 + below(640);
    meter += 500 + below(900);
    const out = new Date(Date.UTC(1985, 0, 1 + day)).toISOString().slice(0, 10);
    day += 5 + below(35);
    const back = dayFirst(new Date(Date.UTC(1985, 0, 1 + day)).toISOString().slice(0, 10));
    const pulled = below(80) === 0 ? "31/02/2020" : below(16) === 0 ? out : dayFirst(out);
    const frame = below(80) === 0 ? "" : `FA-${String(unit).padStart(6, "0")}`;
    const endPlay = below(16) === 0 ? `${(below(170) + 30) / 1000} mm` : String((below(80) + 10) / 10);
    yield `C${String(number).padStart(8, "0")},${frame},M${below(6)},Station ${below(40)},P-${below(400)},${pulled},${pulled},${back},${back},${meter},${meter},${pick("failed", "hours up", "outage", "?")},${pick("oil", "grease")},lip ${below(3)},${endPlay},${below(60)},${180 + below(60)},1750,F${below(20)},${pick("Y", "N")},${pick("bad", "good", "worn", "")},remark ${below(100_000)} about frame\n`;
  }
}

const dayFirst = (day) => `${day.slice(8)}/${day.slice(5, 7)}/${day.slice(0, 4)}`;

function* chunks(count) {
  let text = `${HEADER}\n`;
  for (const card of cards(count)) {
    text += card;
    if (text.length > 1 << 20) {
      yield text;
      text = "";
    }
  }
  yield text;
}

const dated = (column) => `{ column: ${column}, dates: ["%d/%m/%Y", "%Y-%m-%d"] }`;
const PIPELINE = `
title: Cards
record: rebuild
files: exports/cards.csv
fields:
  card: { column: Card, tidy: [upper] }
  fleet: { value: main }
  unit: { column: Frame, tidy: [upper] }
  model: { column: Type }
  site: { column: Station }
  position: { column: Pump, tidy: [upper] }
  removed_on: ${dated("Pulled")}
  received_on: ${dated("Shop")}
  built_on: ${dated("Built")}
  installed_on: ${dated("Back")}
  hours_removed: { column: Meter out, low: 0, high: 100000 }
  hours_installed: { column: Meter in, low: 0, high: 100000 }
  reason: { column: Why, words: { failed: failure, hours up: planned, outage: opportunity, "?": unknown } }
  lube: { column: Lube, words: { oil: oil_bath, grease: grease } }
  seal_arrangement: { column: Seal }
  end_play: { column: EP, unit: thou, low: 0.3, high: 20 }
  shims: { column: Shims, unit: thou, low: 0, high: 100 }
  ring_temperature: { column: Temp, unit: F, low: 120, high: 260 }
  speed: { column: Speed }
  fitter: { column: Fitter, tidy: [upper] }
  remarks: { column: Remarks }
slots:
  drive_end_bearings:
    fitted: { column: DE new, words: { Y: yes, N: no } }
    condition: { column: DE found, words: { bad: failed, good: serviceable, worn: worn } }
`;
const CONFIGURATION = `
title: Speed
fleets: [{ name: main, title: Main }]
slots: { drive_end_bearings: { title: Drive-end bearings, quantity: 2, kind: bearing } }
pipelines: [cards]
`;
const BARE = "create table cards as select * from read_csv('exports/cards.csv', header = true, all_varchar = true)";

const shown = (name, runs) =>
  console.log(
    `${name}: ${median(runs.map(({ seconds }) => seconds)).toFixed(1)} s, ${median(runs.map(({ cpu }) => cpu)).toFixed(1)} CPU s, peak ${Math.max(...runs.map(({ peak }) => peak)).toFixed(0)} MB`,
  );

function shownRatio(name, runs, peers) {
  const ratios = runs.map(({ seconds }, round) => seconds / peers[round].seconds);
  console.log(
    `${name}: ${median(ratios).toFixed(2)}x (${ratios.map((ratio) => ratio.toFixed(2)).join(", ")}); must ${GOALS[name.slice(0, 2)].must.ratio}`,
  );
}

try {
  mkdirSync(join(folder, "exports"));
  mkdirSync(join(folder, "pipelines"));
  writeFileSync(join(folder, "framelife.yaml"), CONFIGURATION);
  writeFileSync(join(folder, "pipelines", "cards.yaml"), PIPELINE);
  await pipeline(Readable.from(chunks(rows)), createWriteStream(file));
  console.log(`${rows.toLocaleString("en-US")} rows, ${(statSync(file).size / 1e6).toFixed(0)} MB`);
  await buildLanding(landing);
  const [bare, landed, own] = [[], [], []];
  const store = join(folder, "store");
  for (let round = 0; round < rounds; round++) {
    const plain = join(folder, "bare.duckdb");
    bare.push(succeeded(timedEngine(plain, [BARE], { cwd: folder })));
    rmSync(plain);
    landed.push(succeeded(timedNode([landing, "exports/cards.csv"], { cwd: folder })));
    rmSync(store, { recursive: true });
    own.push(timedProgram(["ingest", "--quiet"], folder));
    rmSync(store, { recursive: true });
  }
  shown("bare engine", bare);
  shown("landing alone", landed);
  shown("framelife ingest", own);
  shownRatio("P1, landing", landed, bare);
  shownRatio("P2, all of it", own, bare);
} finally {
  rmSync(landing, { force: true });
  rmSync(folder, { recursive: true, force: true });
}
