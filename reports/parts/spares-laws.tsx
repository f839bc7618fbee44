import type { SparesAnswer } from "../../src/questions/spares-answer.ts";
import { MANY, USUAL } from "../../src/questions/spares-laws.ts";
import { count, inWords, unitOf, unrounded, wholePercent } from "../../src/questions/wording.ts";
import type { Titles } from "../text/spares-titles.ts";
import type { Cell } from "./data-table.tsx";
import { DataTable, FoldedTable } from "./data-table.tsx";
import { RowsBehind } from "./rows-behind.tsx";

/** Laws that stand open. */
const OPEN = 24;

/** The laws by which lives run on, the frames that an exchange needs, and how often futures were drawn. */
export function SparesLaws({ answer, titles }: { answer: SparesAnswer; titles: Titles }) {
  const { laws, basis, draws, seed, exchange, clock, service } = answer;
  const table = {
    caption: "Laws of the slots (Weibull)",
    columns: [
      { title: "Fleet" },
      { title: "Slot" },
      { title: "Shape", figures: true },
      { title: `Scale (${unitOf(clock).trim()})`, figures: true },
      { title: "Failed", figures: true },
      { title: "Law of" },
      { title: "Renewed when opened", figures: true },
    ],
    rows: laws.map(({ fleet, slot, shape, scale, failed, from, renewed }): Cell[] => [
      titles.fleet(fleet),
      titles.slot(slot),
      inWords(shape),
      scale === null ? "never fails" : inWords(scale),
      failed,
      from,
      wholePercent(renewed),
    ]),
    trace: <RowsBehind command={answer.rows} />,
  };
  return (
    <>
      <p>
        {`${count(basis.units, "frame")} in service, run on by laws from ${count(basis.lives, "life", "lives")} (${count(basis.failed, "failure")}), in ${count(draws, "future")} drawn at random (seed ${seed}); each future draws the laws anew within their uncertainty.`}
      </p>
      {exchange !== null && (
        <p>
          {`A frame is in the shop for ${count(Math.round(exchange.turnaroundDays), "day")} in the middle, and ${inWords(exchange.openingsAMonth)} a month are opened: ${count(exchange.frames, "ready frame")} to exchange ${exchange.frames === 1 ? "keeps" : "keep"} a chance of ${unrounded(100 * service)} % that one is there.`}
        </p>
      )}
      <p class="note">
        {`These laws are of failures that open a frame, and below ${MANY} failures their shape is drawn towards a usual one, about ${inWords(USUAL.shape)}: the fewer, the more. The pages of lives fit each slot by its own lives alone, so that shapes there differ.`}
      </p>
      {laws.length > OPEN ? <FoldedTable table={table} /> : <DataTable {...table} />}
    </>
  );
}
