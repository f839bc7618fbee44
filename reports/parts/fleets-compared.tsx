import type { Comparison } from "../../src/questions/life-answer.ts";
import type { FleetsCompared as Compared } from "../../src/questions/overview-types.ts";
import { inWords, withLimits } from "../../src/questions/wording.ts";
import type { FleetInShort } from "../fleet-in-short.ts";
import { capitalised } from "../text/capitalised.ts";
import { chanceWords } from "../text/chance-words.ts";
import { comparisonWords } from "../text/comparison-words.ts";
import { groupTitle } from "../text/group-title.ts";
import { percentOf } from "../text/percent-of.ts";
import { type Cell, FoldedTable } from "./data-table.tsx";
import { RowsBehind } from "./rows-behind.tsx";

type ComparedProps = { compared: Compared; fleets: FleetInShort[]; level: number };

/** Tests and ratios between fleets, slot by slot: in words, then in figures. */
export function FleetsCompared({ compared, fleets, level }: ComparedProps) {
  const { groups, comparisons, rows } = compared;
  if (comparisons.length === 0) return null;
  const titles = new Map(fleets.map(({ name, title }) => [name, title]));
  const slots: Record<string, string> = Object.assign({}, ...fleets.map((fleet) => fleet.slots));
  const names = groups.map(({ by }) => titles.get(by["fleet"] ?? "") ?? groupTitle(by, slots));
  const order = Object.keys(slots);
  const place = ({ slot }: Comparison) => (slot === null ? -1 : order.indexOf(slot));
  const named = comparisons
    .toSorted((a, b) => place(a) - place(b))
    .map((comparison) => ({
      comparison,
      names,
      title: comparison.slot === null ? "All lives" : (slots[comparison.slot] ?? comparison.slot),
    }));
  const pooled = named.flatMap(({ title, comparison: { pooling } }) =>
    pooling === null ? [] : [{ title, ...pooling }],
  );
  const ratios = named.flatMap(ratioRows);
  return (
    <>
      <h3>Do fleets differ?</h3>
      <ul>
        {named.map(({ title, comparison }) => (
          <li key={title}>
            <strong>{title}.</strong> {comparisonWords(comparison, names, level)}
          </li>
        ))}
      </ul>
      <p class="note">
        Where many slots are tested, about one test in {Math.round(1 / (1 - level))} finds a difference that is none.
        The tests take lives as independent: where one unit gives several, differences are found a little too easily.
        Fleets differ in duty, units and care: what differs here is how long parts lasted, not why.
      </p>
      <FoldedTable
        table={{
          caption: "Tests between fleets",
          columns: [
            { title: "Slot" },
            { title: "Test" },
            { title: "Statistic", figures: true },
            { title: "Degrees", figures: true },
            { title: "Chance where there is no difference", figures: true },
          ],
          rows: named.flatMap(testRows),
          trace: <RowsBehind command={rows} />,
        }}
      />
      {pooled.length > 0 && <Borrowing pooled={pooled} rows={rows} />}
      {ratios.length > 0 && (
        <FoldedTable
          table={{
            caption: `L10 of a fleet over that of the fleet with most failures, ${percentOf(level)} limits`,
            columns: [{ title: "Slot" }, { title: "Fleet" }, { title: "Over" }, { title: "Ratio", figures: true }],
            rows: ratios,
            trace: <RowsBehind command={rows} />,
          }}
        />
      )}
    </>
  );
}

type Pooling = NonNullable<Comparison["pooling"]> & { title: string };

/** How far fleets lie apart, by which each borrows more or less from the others. */
function Borrowing({ pooled, rows }: { pooled: Pooling[]; rows: string }) {
  const priors = [...new Set(pooled.flatMap(({ priors }) => (priors === null ? [] : [priors])))];
  return (
    <>
      <p>
        Hollow marks in the figure borrow from the other fleets: the fewer failures a fleet has, and the closer fleets
        lie together, the more. “Own weight” in its table is the part of a fleet's figure that its own lives make.
        {priors.map((words) => ` ${capitalised(words)}.`)}
      </p>
      <FoldedTable
        table={{
          caption: "How far fleets lie apart, as factors of a typical fleet from the middle",
          columns: [
            { title: "Slot" },
            ...["Fleets", "In life (scale)", "In shape"].map((title) => ({ title, figures: true })),
          ],
          rows: pooled.map(({ title, groups, logScaleSd, logShapeSd }) => [
            title,
            groups,
            inWords(Math.exp(logScaleSd)),
            inWords(Math.exp(logShapeSd)),
          ]),
          trace: <RowsBehind command={rows} />,
        }}
      />
    </>
  );
}

type Named = { comparison: Comparison; title: string; names: string[] };

function testRows({ title, comparison: { commonShape, oneLaw, logRank, reasons } }: Named): Cell[][] {
  const tests = [
    { name: "one shape for all (likelihood ratio)", test: commonShape },
    { name: "one law for all (likelihood ratio)", test: oneLaw },
    { name: "one survival curve for all (log-rank)", test: logRank },
  ].flatMap(({ name, test }): Cell[][] =>
    test === null ? [] : [[title, name, inWords(test.statistic), test.df, chanceWords(test.p)]],
  );
  return tests.length === 0 ? [[title, reasons[0] ?? "none", null, null, null]] : tests;
}

function ratioRows({ title, names, comparison: { ratios } }: Named): Cell[][] {
  return ratios.map(({ group, of, ratio }) => [
    title,
    names[group] ?? String(group),
    names[of] ?? String(of),
    withLimits(ratio, ""),
  ]);
}
