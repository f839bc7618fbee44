import type { DuckDBConnection } from "@duckdb/node-api";
import { deriveLives } from "../lives/derive-lives.ts";
import { columns } from "../store/columns.ts";
import { runStep } from "../store/run-step.ts";
import type { Configuration } from "../workspace/configuration.ts";
import type { SparesAnswer } from "./spares-answer.ts";
import type { SparesBacktest } from "./spares-backtest-answer.ts";
import { type ReplayedOrigin, replayFleet } from "./spares-backtest-origin.ts";
import { LEVELS, scoredSeries } from "./spares-backtest-scores.ts";
import { backtestSentence, backtestWarnings } from "./spares-backtest-words.ts";
import { isApart, ORIGIN_STEP, type Origins, originsOf, REPLAYED_MONTHS } from "./spares-origins.ts";
import type { SparesQuestion } from "./spares-scope.ts";
import { addDays, QUANTILES } from "./spares-use.ts";

export type BacktestAsked = {
  question: Pick<SparesQuestion, "fleet" | "clock" | "draws" | "seed">;
  configuration: Configuration;
  asOf: string;
  /** Parts by number, with their titles. */
  titles: Map<string, string | null>;
  /** Told before each origin, and after the last. */
  onStep?: (done: number, total: number, what: string) => void;
};

/** A forecast with how past ones did, which its answer begins with. The connection is as `sparesBacktest` leaves it. */
export async function withBacktest(
  connection: DuckDBConnection,
  answer: SparesAnswer,
  asked: Omit<BacktestAsked, "asOf" | "titles">,
): Promise<SparesAnswer> {
  const titles = new Map(answer.parts.map(({ part, title }) => [part, title]));
  const backtest = await sparesBacktest(connection, { ...asked, titles, asOf: answer.asOf ?? "" });
  return {
    ...answer,
    answer: `${backtest.answer} ${answer.answer}`,
    warnings: [...answer.warnings, ...backtest.warnings],
    backtest,
  };
}

/**
 * Past forecasts against what was used: at each origin lives are derived as they were known then, laws fitted anew, and 12 months
 * simulated. Works on a read-only store; it leaves the tables of the last origin on the connection, so nothing can be asked of it after.
 */
async function sparesBacktest(connection: DuckDBConnection, asked: BacktestAsked): Promise<SparesBacktest> {
  const { question, configuration, asOf, titles, onStep } = asked;
  const recordsFrom = await recordsBegin(connection, configuration, question.fleet);
  const origins = recordsFrom === null ? { edges: [], at: [] } : originsOf(recordsFrom, asOf);
  const replayed: ReplayedOrigin[] = [];
  if (origins.at.length > 0) await usedBetween(connection, origins, question.fleet);
  for (const [nth, at] of origins.at.entries()) {
    onStep?.(nth, origins.at.length, `forecast of ${addDays(origins.edges[at]!, -1)}`);
    const one = await replayOrigin(connection, asked, { origins, nth });
    if (one !== null) replayed.push(one);
  }
  onStep?.(origins.at.length, origins.at.length, "");
  return backtestOf(replayed, { question, recordsFrom, asOf, titles });
}

function backtestOf(
  replayed: ReplayedOrigin[],
  {
    question,
    recordsFrom,
    asOf,
    titles,
  }: Pick<BacktestAsked, "question" | "asOf" | "titles"> & { recordsFrom: string | null },
): SparesBacktest {
  const scored = (replayed[0]?.series ?? []).map((_, series) =>
    scoredSeries(
      replayed.map((origin) => origin.series[series]!),
      question.seed + SEEDS_APART * series,
    ),
  );
  const openings = scored.pop() ?? null;
  const parts = scored.map((series, at) => {
    const part = replayed[0]!.parts[at]!;
    return { part, title: titles.get(part) ?? null, ...series };
  });
  const windows = replayed.map(({ series }) => series[0]!);
  const backtest: SparesBacktest = {
    ...{ answer: "", warnings: [], recordsFrom, months: REPLAYED_MONTHS, step: ORIGIN_STEP, quantiles: [...QUANTILES] },
    ...{ draws: question.draws, seed: question.seed },
    origins: windows.map(({ origin }) => origin),
    apart: windows.filter((window) => window.isApart).map(({ origin }) => origin),
    coverage: replayed.length === 0 ? [] : LEVELS.map((level, at) => pooledCoverage(parts, level, at)),
    openings,
    parts,
  };
  backtest.answer = backtestSentence(backtest, asOf);
  backtest.warnings = backtestWarnings(backtest);
  return backtest;
}

/** Numbers drawn for the transforms of one series are not those of another. */
const SEEDS_APART = 7919;

/** All parts have as many windows apart, so that the mean share is the share of all. Of what nothing is used, nothing is learnt. */
function pooledCoverage(parts: SparesBacktest["parts"], level: number, at: number): SparesBacktest["coverage"][number] {
  const moved = parts.filter(({ used, lives, windows }) => used > 0 || lives.forecast * windows.length >= 1);
  const mean = (of: "randomised" | "plain") =>
    moved.reduce((sum, { lives }) => sum + (lives.coverage[at]![of].estimate ?? 0), 0) / Math.max(1, moved.length);
  return { level, randomised: mean("randomised"), plain: mean("plain") };
}

/** What is forecast from an origin, and what came; null where nothing was known of any unit by then. */
async function replayOrigin(
  connection: DuckDBConnection,
  { question, configuration }: BacktestAsked,
  { origins: { edges, at }, nth }: { origins: Origins; nth: number },
): Promise<ReplayedOrigin | null> {
  const place = at[nth]!;
  await deriveLives(connection, { configuration, asOf: addDays(edges[place]!, -1) });
  await runStep(connection, `40_studied_${question.clock}`);
  return replayFleet(connection, { question, configuration, edges, place, isApart: isApart(nth, at.length) });
}

async function usedBetween(connection: DuckDBConnection, { edges }: Origins, fleet: string | undefined): Promise<void> {
  await runStep(connection, "61_used", { fleet: fleet ?? null, from_on: edges[0]!, to_on: edges.at(-1)! });
}

/** The first day on which the records of some fleet are whole: as the workspace says, else that of its first card. */
async function recordsBegin(
  connection: DuckDBConnection,
  { fleets }: Pick<Configuration, "fleets">,
  fleet: string | undefined,
): Promise<string | null> {
  const first = await columns(
    connection,
    `select fleet, min(coalesce(removed_on, received_on, built_on, installed_on))::varchar as day from records.rebuild
     where coalesce(removed_on, received_on, built_on, installed_on) is not null and ($fleet is null or fleet = $fleet) group by fleet`,
    { fleet: "text", day: "text" },
    { fleet: fleet ?? null },
  );
  const days = first.fleet.map(
    (name, row) => fleets.find((known) => known.name === name)?.records_begin ?? first.day[row]!,
  );
  return days.toSorted()[0] ?? null;
}
