import type { BenchAnswer, BenchComebacks, BenchGroup } from "../../src/questions/bench-answer.ts";
import { shareWords } from "../../src/questions/bench-sentence.ts";
import { count } from "../../src/questions/wording.ts";
import { comebacksByBuilt } from "../charts/comebacks-by-built.ts";
import { backFinding } from "../text/bench-findings.ts";
import { builtSpans } from "../text/built-spans.ts";
import { percentOf } from "../text/percent-of.ts";
import type { Cell } from "./data-table.tsx";
import { Figure } from "./figure.tsx";
import { RowsBehind } from "./rows-behind.tsx";

/** Months or quarters that the picture has room for: the latest. */
const MOST = 40;

/** How many builds come back for failure inside the limit, by when they were built. */
export function BenchBack({ group, bench, title }: { group: BenchGroup; bench: BenchAnswer; title: string }) {
  const { comebacks, splits } = group;
  if (comebacks === null) return <p>Nothing says how long these builds were in service.</p>;
  const { of, built, unknown } = builtSpans(splits);
  if (comebacks.share.estimate === null || built.length === 0) {
    return (
      <p>
        {`How many come back within ${count(comebacks.limit, "day")} is not known: ${comebacks.share.reason ?? "no build has a date"}.`}
      </p>
    );
  }
  const shown = built.slice(-MOST);
  return (
    <Figure
      title={`Back for failure within ${comebacks.limit} days, by ${of} built`}
      finding={backFinding(comebacks)}
      size="half"
      spec={comebacksByBuilt(shown, { title, days: comebacks.limit, of, all: comebacks.share })}
      table={{
        columns: [
          { title: "Built" },
          ...["Builds", "Back for failure", `Share, with ${percentOf(bench.level)} limits`].map((name) => ({
            title: name,
            figures: true,
          })),
        ],
        rows: built
          .toReversed()
          .map(({ name, builds, share }): Cell[] => [name, builds, share.count, shareWords(share)]),
        trace: <RowsBehind command={bench.rows} />,
      }}
    >
      {`A dot is the builds of one ${of}${of === "quarter" ? " (months have too few)" : ""}, its bar the ${percentOf(bench.level)} limits: while the bar reaches the line of all, the dot says little.`}
      {shown.length < built.length && ` The latest ${shown.length} of ${count(built.length, of)} are drawn.`}
      {unknown > 0 && ` Nothing is known yet of ${count(unknown, of)}.`}
      {counted(comebacks)}
    </Figure>
  );
}

function counted({ planned, stillFollowed, limit }: BenchComebacks): string {
  return ` Builds taken out as planned inside ${limit} days (${planned}) did not fail; those that still run inside them (${stillFollowed}) count as far as they have run.`;
}
