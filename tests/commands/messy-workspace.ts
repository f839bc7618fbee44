import { mkdirSync, mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { CARD_HEADER, CARDS } from "../ingest/scratch-workspace.ts";
import { runProgram } from "./run-program.ts";

const CONFIGURATION = `
title: Quillhaven bearing-frame shop
fleets: [{ name: saltmere, title: Saltmere }, { name: ostrel, title: Ostrel }]
slots:
  drive_end_bearings: { title: Drive-end bearings, quantity: 2, kind: bearing }
  pump_end_bearing: { title: Pump-end bearing, quantity: 1, kind: bearing }
pipelines: [cards, rounds, long]
quarantine_limit: 0.5
`;

const ROUNDS = `
title: Meter rounds
record: reading
files: exports/rounds.csv
fields:
  fleet: { value: saltmere }
  unit: { column: Frame }
  read_on: { column: Read, dates: ["%Y-%m-%d"] }
  hours: { column: Meter }
`;

const LONG = `
title: Long cards
record: rebuild
layout: long
files: [exports/long.csv, exports/long-again.csv]
fields:
  card: { column: Card }
  fleet: { value: ostrel }
  unit: { column: Frame }
  removed_on: { column: Out, dates: ["%Y-%m-%d"] }
  slot: { column: Slot, words: { DE: drive_end_bearings, PE: pump_end_bearing } }
  condition: { column: Found, words: { bad: failed, good: serviceable } }
  fitted: { column: New, words: { Y: yes, N: no } }
`;

// Row 2: fitted; row 3: the life ends, its end play with a unit of its own; row 4: dates in an impossible order; row 5: a total;
// row 6 says what row 2 says; row 7 names unit F1 for a card, too
const CARD_ROWS = [
  CARD_HEADER,
  "J1,F1,03/01/2020,05/01/2020,1000,failed,4,Y,bad",
  "J2,F1,20/06/2021,25/06/2021,6000.5,failed,0.13 mm,Y,bad",
  "J3,F1,20/06/2022,25/06/2021,9000,failed,4,Y,bad",
  "Total,,,,,,,,",
  "J1,F1,03/01/2020,05/01/2020,1000,failed,4,Y,bad",
  "F1,F2,01/02/2020,02/02/2020,10,?,99,Y,good",
  "",
].join("\n");

/**
 * Makes and ingests a workspace in a temporary folder, with rows that end in every way there is: a card in two versions, twice the
 * same, set aside, not data; a value changed, one left out; a unit that is called as a card is, in two fleets.
 */
export async function messyWorkspace(): Promise<string> {
  const folder = mkdtempSync(join(tmpdir(), "framelife-messy-"));
  const files = {
    "framelife.yaml": CONFIGURATION,
    "pipelines/cards.yaml": `${CARDS}not_data: [{ column: Card, matches: Total }]\n`,
    "pipelines/rounds.yaml": ROUNDS,
    "pipelines/long.yaml": LONG,
    "exports/cards-1.csv": CARD_ROWS,
    "exports/cards-2.csv": `${CARD_HEADER}\nJ2,F1,20/06/2021,25/06/2021,6000.5,hours up,5,Y,bad\n`,
    "exports/rounds.csv": "Frame,Read,Meter\nF1,2020-09-01,3000\nF1,2021-12-01,8000\n",
    "exports/long.csv":
      "Card,Frame,Out,Slot,Found,New\nK1,F1,2020-03-01,DE,bad,Y\nK1,F1,2020-03-01,PE,good,N\nK2,F1,2021-03-01,DE,bad,Y\n",
    "exports/long-again.csv": "Card,Frame,Out,Slot,Found,New\nK1,F1,2020-03-01,DE,good,Y\nK1,F1,2020-03-01,PE,good,N\n",
  };
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
  const { status, err } = await runProgram(folder, "ingest");
  if (status !== 0) throw new Error(`Cannot make the workspace: ${err}`);
  return folder;
}
