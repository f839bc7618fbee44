import { readdirSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { ScratchWorkspace } from "./scratch-workspace.ts";

// A row group of the engine holds 122,880 rows: more of one ending than that are written another way.
const ROWS = 2_000_000;
const SET_ASIDE = 12; // one in so many
// Makes the file larger than 250 MB, so that its rows wait on disk.
const LONG =
  "the drive end ran hot and its grease was black; shaft polished; housing bore measured and found within its limits";

const PIPELINE = `
title: Cards
record: rebuild
files: exports/cards.csv
fields:
  card: { column: Card }
  fleet: { value: saltmere }
  unit: { column: Frame }
  removed_on: { column: Out, dates: ["%d/%m/%Y"] }
  hours_removed: { column: Hours }
  lube: { column: Lube, words: { oil: oil_bath } }
  fitter: { column: Fitter }
  remarks: { column: Remarks }
`;

function exported(): string {
  const lines = ["Card,Frame,Out,Hours,Lube,Fitter,Remarks"];
  for (let row = 0; row < ROWS; row++) {
    const frame = row % SET_ASIDE === 0 ? "" : `F${row}`;
    lines.push(
      `C${row},${frame},05/01/2020,${row % 5 === 0 ? "many" : row % 9000},${row % 4 === 0 ? "oyl" : "oil"},T${row % 20},remark ${row} on a frame: ${LONG}`,
    );
  }
  return `${lines.join("\n")}\n`;
}

it("accounts for each row and finding of a file of which many rows are set aside", async () => {
  const workspace = new ScratchWorkspace({ cards: PIPELINE }, { "exports/cards.csv": exported() });
  const { files } = await workspace.ingest();
  const aside = Math.ceil(ROWS / SET_ASIDE);
  expect(files[0]).toMatchObject({ read: ROWS, notData: 0, quarantined: aside, accepted: ROWS - aside });
  const shares = "select rule, count(*) from quarantine.finding group by rule order by rule";
  expect(await workspace.lines(shares)).toEqual([
    `missing|${aside}`,
    `not_a_number|${ROWS / 5}`,
    `unknown_word|${ROWS / 4}`,
  ]);
  const numbered =
    "select count(*) from records.rebuild_row where 'C' || (row - 2) = card and fitter = 'T' || ((row - 2) % 20)";
  expect(await workspace.lines(numbered)).toEqual([`${ROWS - aside}`]);
  expect(readdirSync(join(workspace.folder, "store/exports")).filter((name) => name.startsWith("waiting-"))).toEqual(
    [],
  );
});
