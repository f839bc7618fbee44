import type { SparesAnswer } from "../../src/questions/spares-answer.ts";
import type { BacktestScore, SparesBacktest } from "../../src/questions/spares-backtest-answer.ts";
import { count, inWords, wholePercent } from "../../src/questions/wording.ts";
import { forecastAgainstUse } from "../charts/forecast-against-use.ts";
import { capitalised } from "../text/capitalised.ts";
import { pastFinding } from "../text/spares-findings.ts";
import { type Cell, DataTable } from "./data-table.tsx";
import { Figure } from "./figure.tsx";

/** Past forecasts against what was used. */
export function SparesPast({ answer: { backtest } }: { answer: SparesAnswer }) {
  if (backtest === null) {
    return (
      <p>
        Past forecasts are held against what was used by <code>framelife spares --backtest</code>, and drawn here by{" "}
        <code>framelife report --backtest</code>.
      </p>
    );
  }
  const { openings } = backtest;
  if (openings === null) return <p>{backtest.answer}</p>;
  return (
    <>
      <Windows backtest={backtest} openings={openings} />
      <Scores backtest={backtest} openings={openings} />
    </>
  );
}

type Shown = { backtest: SparesBacktest; openings: NonNullable<SparesBacktest["openings"]> };

function Windows({ backtest: { months, apart }, openings: { windows } }: Shown) {
  return (
    <Figure
      title={`Frames opened in the ${count(months, "month")} after each day of a past forecast, against the forecast`}
      finding={pastFinding(windows)}
      size="wide"
      spec={forecastAgainstUse({ windows, months })}
      table={{
        columns: [
          { title: "Forecast on" },
          { title: "Mean", figures: true },
          { title: "80 %", figures: true },
          { title: "95 %", figures: true },
          { title: "Opened", figures: true },
          { title: "It lies" },
        ],
        rows: windows.map(({ origin, expected, inner, used }): Cell[] => [
          origin,
          inWords(expected.estimate ?? 0),
          `${inWords(inner.low)} to ${inWords(inner.high)}`,
          `${inWords(expected.low ?? 0)} to ${inWords(expected.high ?? 0)}`,
          used,
          placeOf(used, inner, expected),
        ]),
      }}
    >
      {`Dark bar: 80 % of the futures drawn on that day, pale bar 95 %; a diamond is what came. Windows overlap; the ${apart.length} marked with a full diamond stand apart and are those that coverage counts.`}
    </Figure>
  );
}

type Range = { low: number | null; high: number | null };

function placeOf(used: number, inner: Range, outer: Range): string {
  if (inside(used, inner)) return "inside 80 %";
  return inside(used, outer) ? "inside 95 %" : "outside";
}

function inside(used: number, { low, high }: Range): boolean {
  return low !== null && high !== null && used >= low && used <= high;
}

function Scores({ backtest: { parts }, openings }: Shown) {
  const rivals = openings.rivals.map(({ name }) => name);
  const series = [{ part: "Frames opened", ...openings }, ...parts];
  return (
    <DataTable
      caption="By part: all forecasts together, and the loss of this forecast beside that of plain ones from past use alone"
      columns={[
        { title: "Part" },
        ...["Forecast", "Used", "Held by 80 %", "Held by 95 %", "Loss by lives", ...rivals.map(capitalised)].map(
          (title) => ({ title, figures: true }),
        ),
        { title: "Better" },
      ]}
      rows={series.map(({ part, lives, used, windows, rivals: others }): Cell[] => [
        part,
        inWords(lives.forecast),
        inWords(used / windows.length),
        heldBy(lives, 0.8),
        heldBy(lives, 0.95),
        inWords(lives.loss),
        ...others.map(({ loss }) => inWords(loss)),
        others.some(({ better }) => better)
          ? others
              .filter(({ better }) => better)
              .map(({ name }) => name)
              .join(", ")
          : "lives",
      ])}
      trace="Pieces a window of twelve months. Loss: mean pinball loss over the quantiles, less is better. Held: share of the windows that stand apart."
    />
  );
}

function heldBy({ coverage }: BacktestScore, level: number): string | null {
  const share = coverage.find((one) => one.level === level)?.plain.estimate ?? null;
  return share === null ? null : wholePercent(share);
}
