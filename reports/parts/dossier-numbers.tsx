import type { Entity, OffendersAnswer } from "../../src/questions/offenders-answer.ts";
import { inWords, unitOf, withLimits } from "../../src/questions/wording.ts";
import { chanceFigure } from "../text/chance-figure.ts";
import { percentOf } from "../text/percent-of.ts";
import { perService, rateWords } from "../text/service-rate.ts";
import { type Cell, DataTable } from "./data-table.tsx";
import { RowsBehind } from "./rows-behind.tsx";

/** Everything that the answer says of one, a figure a row. */
export function DossierNumbers({
  entity,
  answer: { clock, level, rows },
}: {
  entity: Entity;
  answer: OffendersAnswer;
}) {
  const per = perService(clock);
  const cells: [string, Cell][] = [
    ["Failures", entity.events],
    ["Failures expected at the ages run through", inWords(entity.expected)],
    ["Rebuilds for another reason", entity.planned],
    ["Service under observation", `${inWords(entity.exposure)}${unitOf(clock)}`],
    [`Failures in ${per}`, rateWords(entity.rate, clock)],
    [`The same, shrunken`, rateWords(entity.shrunkenRate, clock)],
    ["Times the ordinary rate, shrunken", withLimits(entity.shrunkenRatio, "")],
    ["Chance that it is ordinary", chanceFigure(entity.probabilityOrdinary)],
    ["Chance of so many failures of an ordinary one", chanceFigure(entity.pValue)],
    ["The same, adjusted for all looked at", chanceFigure(entity.adjustedP)],
  ];
  return (
    <DataTable
      caption={`How it was judged, with ${percentOf(level)} limits`}
      columns={[{ title: "What" }, { title: "Figure", figures: true }]}
      rows={cells}
      trace={<RowsBehind command={rows} />}
    />
  );
}
