// "framelife spares" as a whole process: units of six slots, 36 months ahead, 2,000 draws, from a store that the program itself filled.
// Arguments: units (10,000).
import { spawnSync } from "node:child_process";
import { createWriteStream, existsSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { finished } from "node:stream/promises";
import { fileURLToPath } from "node:url";
import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { timedProgram } from "./measure.mjs";

const main = fileURLToPath(new URL("../../dist/src/main.js", import.meta.url));
if (!existsSync(main)) throw new Error('There is no build: run "npm run bench"');
const units = Number(process.argv[2] ?? 10_000);
const SHAPES = [1.4, 1.8, 1.1, 2, 1.5, 1.2];
const SLOTS = SHAPES.map((_, slot) => `slot_${slot}`);
const DAYS = 3650;
const HOURS_A_DAY = 14;

const CONFIGURATION = `
title: Speed
fleets: [{ name: main, title: Main }]
slots:
${SLOTS.map((slot) => `  ${slot}: { title: ${slot}, quantity: 1, kind: other }`).join("\n")}
stock_policy: { lead_time_days: 60 }
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
  hours_removed: { column: Hours }
slots:
${SLOTS.map((slot) => `  ${slot}: { condition: { column: ${slot}, words: { bad: failed, good: serviceable } }, fitted: { column: ${slot} new, words: { Y: yes, N: no } } }`).join("\n")}
`;

/** Cards of frames that open at the first failure of a slot; the one that failed is renewed, and each other with a chance of 0.8. */
async function writeCards(path) {
  const random = xoroshiro128plus(20_261_128);
  const life = (slot) => (20_000 + 4000 * slot) * (-Math.log1p(-uniformFloat64(random))) ** (1 / SHAPES[slot]);
  const out = createWriteStream(path);
  out.write(`Card,Frame,Out,Hours,${SLOTS.flatMap((slot) => [slot, `${slot} new`]).join(",")}\n`);
  let cards = 0;
  for (let unit = 0; unit < units; unit++) {
    const ends = SHAPES.map((_, slot) => life(slot));
    let open = Math.floor(uniformFloat64(random) * 400);
    while (open / HOURS_A_DAY < DAYS) {
      const next = Math.min(...ends);
      const cells = ends.map((end) => {
        const renewed = end === next || open < 400 || uniformFloat64(random) < 0.8;
        return [end === next && open >= 400 ? "bad" : "good", renewed ? "Y" : "N"];
      });
      const day = new Date(Date.UTC(2010, 0, 1) + Math.floor(open / HOURS_A_DAY) * 86_400_000)
        .toISOString()
        .slice(0, 10);
      out.write(`C${cards++},F${unit},${day},${open.toFixed(0)},${cells.flat().join(",")}\n`);
      cells.forEach(([, renewed], slot) => {
        if (renewed === "Y") ends[slot] = open + life(slot);
      });
      open = Math.max(Math.min(...ends), open + HOURS_A_DAY);
    }
  }
  out.end();
  await finished(out);
  return cards;
}

const folder = mkdtempSync(join(tmpdir(), "framelife-bench-"));
try {
  mkdirSync(join(folder, "exports"));
  mkdirSync(join(folder, "pipelines"));
  writeFileSync(join(folder, "framelife.yaml"), CONFIGURATION);
  writeFileSync(join(folder, "pipelines", "cards.yaml"), PIPELINE);
  const cards = await writeCards(join(folder, "exports", "cards.csv"));
  const { status, stderr } = spawnSync(process.execPath, [main, "ingest", "--quiet"], {
    encoding: "utf8",
    cwd: folder,
  });
  if (status !== 0) throw new Error(`framelife ingest failed: ${stderr}`);
  const run = timedProgram(["spares", "--horizon", "36", "--json"], folder);
  console.log(
    `framelife spares, ${units.toLocaleString("en-US")} units of ${SLOTS.length} slots (${cards.toLocaleString("en-US")} cards), 36 months, 2,000 draws: ${run.seconds.toFixed(1)} s, ${run.cpu.toFixed(1)} CPU s, peak ${run.peak.toFixed(0)} MB`,
  );
} finally {
  rmSync(folder, { recursive: true });
}
