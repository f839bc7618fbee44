import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { meanSpread } from "../stats/measurements/mean-spread.ts";
import { columns } from "../store/columns.ts";
import { quoteText } from "../store/quote.ts";
import { MM_PER } from "../workspace/lengths.ts";
import { completeness } from "./audit-completeness.ts";
import type { BenchAnswer, BenchBasis, BenchGroup, BenchSplit, BenchWindow } from "./bench-answer.ts";
import { asBuiltOf, outsideOf } from "./bench-as-built.ts";
import { comebackShare, comebacksOf, followedOf } from "./bench-comebacks.ts";
import { type BenchRows, benchRows } from "./bench-rows.ts";
import { benchSentence } from "./bench-sentence.ts";
import { shimCheckOf } from "./bench-shims.ts";
import { benchWarnings } from "./bench-warnings.ts";
import { benchGauge, benchWindow } from "./bench-window.ts";
import { checkedColumns, checkedCondition } from "./conditions.ts";
import { framelife, rowsCommand } from "./rows-command.ts";
import { groupTitle, type Source, sourceWarnings } from "./scope.ts";
import { unmetWarnings } from "./unmet-condition.ts";

/** What `bench` is asked: of which builds, told apart by which further columns. */
export type BenchQuestion = {
  fleet?: string;
  /** A condition on the columns of `built`, in SQL. */
  where?: string;
  by: string[];
  level: number;
  /** One fitter's own builds. */
  fitter?: string;
  /** Standard deviation of a reading, in the unit of the readings; the workspace's where not given. */
  gaugeSd?: number;
};

/** Columns that tell builds apart by what became of them, or that are their own measure. */
const HIDDEN = new Set([
  ...["place", "id", "card", "unit", "file_id", "row", "stop_file", "stop_row", "start_on", "stop_on", "ends", "days"],
  ...[
    "left_out",
    "end_play",
    "end_play_unshimmed",
    "race_depth",
    "spigot_height",
    "shims",
    "built_on",
    "month",
    "model",
  ],
  ...["fleet", "low", "high", "value", "date"],
]);

/** What leaves the bench, against its window and its own past, and what comes back to it. The connection holds `built`. */
export async function askBench(
  connection: DuckDBConnection,
  question: BenchQuestion,
  source: Source,
): Promise<BenchAnswer> {
  const { where, fleet, by, level, fitter = null } = question;
  await checkedColumns(connection, "built", by, HIDDEN);
  const window = benchWindow(source);
  const conditions = [
    ...(where === undefined ? [] : [await checkedCondition(connection, "built", where)]),
    ...(fleet === undefined ? [] : [`fleet = ${quoteText(fleet)}`]),
    ...(fitter === null ? [] : [`fitter = ${quoteText(await knownFitter(connection, fitter))}`]),
  ];
  const condition = conditions.length === 0 ? "true" : conditions.join(" and ");
  const rows = await benchRows(connection, {
    by,
    condition,
    window: source.kind === "table" ? "of each" : window,
    lengthUnit: source.kind === "table" ? null : source.configuration.display.length,
  });
  const groups: BenchGroup[] = [];
  for (const name of fleetsOf(question, source)) {
    groups.push(await groupOf(connection, rows, { name, question, source, window }));
  }
  const all = Int32Array.from(rows.card.keys());
  const answer: BenchAnswer = {
    schema: 1,
    command: "bench",
    answer: "",
    asOf: source.kind === "workspace" ? source.asOf : null,
    clock: null,
    level,
    basis: basisOf(rows, all, source),
    fitter,
    warnings: [],
    rows: rowsCommand("built", { ...(fleet !== undefined && { fleet }), ...whereOf(where, fitter) }, source),
    groups,
  };
  answer.answer = benchSentence(answer, outsideOf(rows, all, level), where);
  const unmet = all.length === 0 ? await unmetWarnings(connection, "built", where) : [];
  answer.warnings = [...sourceWarnings(source), ...benchWarnings(answer, where), ...unmet];
  return answer;
}

function whereOf(where: string | undefined, fitter: string | null): { where?: string } {
  const parts = [
    ...(where === undefined ? [] : [where]),
    ...(fitter === null ? [] : [`fitter = ${quoteText(fitter)}`]),
  ];
  return parts.length === 0 ? {} : { where: parts.join(" and ") };
}

async function knownFitter(connection: DuckDBConnection, fitter: string): Promise<string> {
  const { builds } = await columns(
    connection,
    "select count(*)::integer as builds from built where fitter = $fitter",
    { builds: "integer" },
    { fitter },
  );
  if (builds[0]! > 0) return fitter;
  throw new UserError(
    `Cannot show the builds of fitter "${fitter}": no card has that code; use it as the cards write it`,
    2,
  );
}

/** The workspace's fleets, or null: the one group of a plain table. */
function fleetsOf({ fleet }: BenchQuestion, source: Source): (string | null)[] {
  if (source.kind === "table") return [null];
  return source.configuration.fleets.map(({ name }) => name).filter((name) => fleet === undefined || name === fleet);
}

type GroupAsked = { name: string | null; question: BenchQuestion; source: Source; window: BenchWindow | null };

async function groupOf(
  connection: DuckDBConnection,
  rows: BenchRows,
  { name, question, source, window }: GroupAsked,
): Promise<BenchGroup> {
  const { level, fitter } = question;
  const code = name === null ? -1 : rows.fleet.words.indexOf(name);
  const chosen = Int32Array.from(rows.card.keys()).filter((row) => rows.fleet.codes[row] === code);
  const by = name === null ? {} : { fleet: name };
  const gaugeSd = benchGauge(question.gaugeSd, source);
  const asked = { unit: unitOf(source), window: window ?? sameWindow(rows, chosen), gaugeSd, level };
  const group = {
    by,
    title: name === null ? "All builds" : groupTitle(by, source),
    basis: basisOf(rows, chosen, source),
    asBuilt: asBuiltOf(rows, chosen, { ...asked, oneFitter: fitter !== undefined }),
  };
  if (source.kind === "table" || name === null) {
    return {
      ...group,
      shims: null,
      comebacks: null,
      splits: splitsOf(rows, chosen, { level, limit: null }),
      completeness: [],
    };
  }
  const { shims, display, comeback_days: limit } = source.configuration;
  const mmPerUnit = MM_PER[display.length];
  const told = await completeness(connection, { fleet: name, asOf: source.asOf });
  return {
    ...group,
    shims: shimCheckOf(rows, chosen, { shims, gaugeSd, mmPerUnit, level, trace: framelife("trace", source.folder) }),
    comebacks: await comebacksOf(connection, rows, chosen, { limit, level, folder: source.folder }),
    splits: splitsOf(rows, chosen, { level, limit }),
    completeness: told.filter(({ record }) => record === "rebuild"),
  };
}

function basisOf(rows: BenchRows, chosen: Int32Array, { kind }: Source): BenchBasis {
  const leftOut: Record<string, number> = {};
  for (const row of chosen) {
    const reason = rows.left_out.words[rows.left_out.codes[row]!];
    if (reason !== undefined) leftOut[reason] = (leftOut[reason] ?? 0) + 1;
  }
  return {
    builds: chosen.length,
    readings: chosen.filter((row) => !Number.isNaN(rows.value[row]!)).length,
    // A plain table knows of no service.
    followed: kind === "table" ? 0 : followedOf(rows, chosen).length,
    leftOut,
  };
}

function unitOf(source: Source): string | null {
  return source.kind === "table" ? null : source.configuration.display.length;
}

/** The window of a plain table where all its readings have the same. */
function sameWindow({ low, high }: BenchRows, chosen: Int32Array): BenchWindow | null {
  const [first] = chosen;
  if (first === undefined) return null;
  const window = { low: low[first]!, high: high[first]!, source: null };
  const alike = chosen.every((row) => low[row] === window.low && high[row] === window.high);
  return alike && Number.isFinite(window.high - window.low) ? window : null;
}

/** Builds of each month, of each model, of each value of a further column; those of one value alone say nothing more. */
function splitsOf(
  rows: BenchRows,
  chosen: Int32Array,
  { level, limit }: { level: number; limit: number | null },
): BenchSplit[] {
  return rows.by.flatMap(({ name, codes, words }) => {
    const order = [...words.keys()].toSorted((one, two) => (words[one]! < words[two]! ? -1 : 1));
    const lists = new Map<number, number[]>(order.map((code) => [code, []]));
    for (const row of chosen) lists.get(codes[row]!)?.push(row);
    const used = [...lists].filter(([, list]) => list.length > 0);
    if (name === "model" && used.length < 2) return [];
    return used.map(([code, list]): BenchSplit => {
      const own = Int32Array.from(list);
      const values = Float64Array.from(own, (row) => rows.value[row]!).filter((value) => !Number.isNaN(value));
      const unfollowed = {
        estimate: null,
        low: null,
        high: null,
        reason: "a plain table has no time in service",
        count: 0,
        of: 0,
      };
      return {
        by: name,
        value: words[code]!,
        builds: own.length,
        readings: values.length,
        mean: meanSpread(values).mean,
        outside: outsideOf(rows, own, level),
        comebacks: limit === null ? unfollowed : comebackShare(rows, followedOf(rows, own), { limit, level }),
      };
    });
  });
}
