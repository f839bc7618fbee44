import type { BenchGroup } from "../../src/questions/bench-answer.ts";
import { shareWords } from "../../src/questions/bench-sentence.ts";
import { count, inWords } from "../../src/questions/wording.ts";
import { chanceWords } from "../text/chance-words.ts";

/** How much of what readings differ by lies between fitters: one figure for all, none of any. */
export function BenchFitters({ group: { asBuilt } }: { group: BenchGroup }) {
  const { betweenFitters: found, betweenFittersReason: reason } = asBuilt;
  if (found === null) return <p>How much of what readings differ by lies between fitters can't be told: {reason}.</p>;
  const unit = asBuilt.unit === null ? "" : ` ${asBuilt.unit}`;
  return (
    <p>
      {`Of the variation of ${count(found.readings, "reading")} ${shareWords(found.share)} lies between the ${found.fitters} fitters, the rest within each one's own builds (${chanceWords(found.p)}).`}
      <span class="on-screen">
        {` Standard deviation ${inWords(found.betweenSd)}${unit} between them, ${inWords(found.withinSd)}${unit} within. No figure of any one is made.`}
      </span>
    </p>
  );
}
