import type { SparesAnswer, SparesPart } from "../../src/questions/spares-answer.ts";
import { oddsWords } from "../../src/questions/spares-sentence.ts";
import { byUrgency } from "../../src/questions/spares-urgency.ts";
import { count, exactly } from "../../src/questions/wording.ts";
import { dotsOf, stockRisk } from "../charts/stock-risk.ts";
import { riskFinding } from "../text/spares-findings.ts";
import { shortageWords } from "../text/spares-words.ts";
import type { Cell } from "./data-table.tsx";
import { PanelsFigure } from "./figure.tsx";

/** Parts that are drawn: those that run short soonest. */
const MOST = 24;
const CHANCES = [0.2, 0.1, 0.05, 0.02, 0.01];

/** How the chance of a shortage falls with stock, part by part. */
export function SparesRisk({ answer }: { answer: SparesAnswer }) {
  const known = byUrgency(answer.parts).filter(({ stockOutRisk }) => dotsOf(stockOutRisk).length > 0);
  if (known.length === 0) return <p>No lead time is known, so nothing is said of how much stock keeps which chance.</p>;
  const shown = known.slice(0, MOST);
  const { service } = answer;
  return (
    <PanelsFigure
      title="Chance of running short before the next order is in, by stock"
      finding={riskFinding(shown)}
      panels={shown.map((part) => ({
        title: part.part,
        words: part.title === null || part.title === part.part ? "" : part.title,
        spec: stockRisk({ ...part, service }),
      }))}
      table={{
        columns: [
          { title: "Part" },
          ...[
            "Have",
            "Runs short",
            "Hold",
            ...CHANCES.map((chance) => `Stock for ${oddsWords(chance)}`),
            "One shelf a fleet",
          ].map((title) => ({ title, figures: true })),
        ],
        rows: shown.map((part): Cell[] => [
          part.part,
          part.position,
          shortageWords(part),
          part.reorderPoint,
          ...CHANCES.map((chance) => stockFor(part, chance)),
          part.apart,
        ]),
      }}
    >
      {`A dot is a stock in pieces; the scale below stretches rare chances. Have: on hand, or on order and due in time. Hold: the least stock that runs short no more often than asked for, ${oddsWords(1 - service)} (dotted line).`}
      {known.length > shown.length &&
        ` The ${MOST} of ${count(known.length, "part")} that run short soonest are drawn.`}
    </PanelsFigure>
  );
}

/** The smallest stock that runs short no more often. */
function stockFor({ stockOutRisk }: SparesPart, chance: number): string | null {
  const found = stockOutRisk.find(({ risk }) => risk <= chance + 1e-12);
  return found === undefined ? null : exactly(found.stock);
}
