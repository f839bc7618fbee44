import type { Clock } from "../../src/questions/answer.ts";
import type { Conditional } from "../../src/questions/life-answer.ts";
import { count, inWords, unitOf } from "../../src/questions/wording.ts";
import { MOST_RUNNING, runningNow } from "../charts/running-now.ts";
import { percentOf } from "../text/percent-of.ts";
import { shareWithLimits } from "../text/share-words.ts";
import type { Cell } from "./data-table.tsx";
import { Figure } from "./figure.tsx";
import { nameCell } from "./name-cell.ts";
import { usePageOf } from "./places.ts";

/** Rows of a table that a browser and a reader still take. */
const MOST_ROWS = 1000;

type RunningProps = { title: string; conditional: Conditional[]; level: number; clock: Clock | null };

type Running = Conditional & { estimate: number };

/** What runs now, by its chance to run on unfailed: a picture for each span asked for, the lowest chance first. */
export function RunningNowSection({ title, conditional, level, clock }: RunningProps) {
  const spans = [...new Set(conditional.map(({ further }) => further))].toSorted((a, b) => a - b);
  return (
    <>
      {spans.map((further) => (
        <Span
          key={further}
          title={title}
          further={further}
          lives={conditional.filter((life) => life.further === further)}
          level={level}
          clock={clock}
        />
      ))}
    </>
  );
}

function Span({
  title,
  further,
  lives,
  level,
  clock,
}: Omit<RunningProps, "conditional"> & { further: number; lives: Conditional[] }) {
  const unitPage = usePageOf("unit");
  const positionPage = usePageOf("position");
  const known = lives.filter(isKnown).toSorted((a, b) => a.estimate - b.estimate || b.age - a.age);
  const unknown = lives.find(({ estimate }) => estimate === null);
  const span = `${inWords(further)}${unitOf(clock)}`;
  if (known.length === 0) {
    return (
      <p>
        The chance to run on {span} can't be given: {unknown?.reason ?? "no life is fitted"}.
      </p>
    );
  }
  const inUnit = clock === null ? "" : ` (${unitOf(clock).trim()})`;
  const listed = known.slice(0, MOST_ROWS);
  const drawn = Math.min(known.length, MOST_RUNNING);
  const surest = known[0]!;
  return (
    <>
      <p>
        Of {count(known.length, "running life", "running lives")} the least sure of another {span} unfailed is{" "}
        {nameOf(surest)}, at {inWords(surest.age)}
        {unitOf(clock)} of age: {shareWithLimits(surest)}.
      </p>
      <Figure
        title={`Chance to run on ${span} unfailed, ${title}`}
        finding={`${nameOf(surest)} is the least sure: ${shareWithLimits(surest)} to run another ${span}`}
        size="wide"
        spec={runningNow({
          title,
          chanceOf: `Chance to run another ${span} unfailed`,
          level,
          rows: known.slice(0, MOST_RUNNING).map((life) => ({
            label: nameOf(life),
            unit: life.unit,
            position: life.position,
            age: `${inWords(life.age)}${unitOf(clock)}`,
            estimate: life.estimate,
            low: life.low,
            high: life.high,
          })),
        })}
        table={{
          columns: [
            { title: "Unit" },
            { title: "Position" },
            { title: `Age${inUnit}`, figures: true },
            { title: `Chance to run on ${span}`, figures: true },
            { title: "Id" },
          ],
          rows: listed.map((life): Cell[] => [
            nameCell(life.unit, unitPage),
            nameCell(life.position, positionPage),
            inWords(life.age),
            shareWithLimits(life),
            life.id === null ? null : { code: life.id },
          ]),
          trace: (
            <>
              The records of a unit: <code>framelife trace ID</code>, with the id in the last column.
            </>
          ),
          part:
            listed.length < known.length
              ? `the ${listed.length.toLocaleString("en-US")} with the lowest chance`
              : undefined,
        }}
      >
        Each life that runs now, with its {percentOf(level)} limits, from the fitted law and its own age; lowest chance
        first{drawn < known.length ? `, ${drawn} of ${known.length.toLocaleString("en-US")} drawn` : ""}. It says
        nothing of how the unit sounds, runs or leaks today.
      </Figure>
    </>
  );
}

function isKnown(life: Conditional): life is Running {
  return life.estimate !== null;
}

function nameOf({ unit, position }: Conditional): string {
  return `${unit ?? "a unit without a number"}${position === null ? "" : ` at ${position}`}`;
}
