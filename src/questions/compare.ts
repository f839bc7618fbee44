import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { unitOf } from "../lives/units.ts";
import { likeReadings } from "../stats/measurements/like-readings.ts";
import { bandEdges } from "../workspace/band-edges.ts";
import { inUnit, windowIn } from "../workspace/lengths.ts";
import { adjustedBy, ratioBy } from "./compare-adjusted.ts";
import type { CompareAnswer } from "./compare-answer.ts";
import { bandsOf, outerBandsWarnings } from "./compare-bands.ts";
import { type Cases, casesOf } from "./compare-cases.ts";
import { confoundingOf } from "./compare-confounding.ts";
import { crudeBands } from "./compare-crude.ts";
import { type ComparedLives, comparedLives, type Known } from "./compare-lives.ts";
import type { Scale } from "./compare-regression.ts";
import { compareSentence } from "./compare-sentence.ts";
import { compareWarnings } from "./compare-warnings.ts";
import { outcomeWarnings } from "./conditions.ts";
import { rowsCommand } from "./rows-command.ts";
import { type CompareQuestion, type Source, sourceWarnings } from "./scope.ts";
import { unmetWarnings } from "./unmet-condition.ts";

/** Columns that are held alike where none are named: what a shop chooses or cannot choose when it builds. */
const USUAL = ["fleet", "site", "model", "lube", "seal_arrangement", "end_play"];

/**
 * Whether lives differ with what was known at their start: crude and with all else alike, in one contrast, with a verdict.
 * The connection holds `studied`; nothing is written to the store.
 */
export async function askCompare(
  connection: DuckDBConnection,
  asked: CompareQuestion,
  source: Source,
): Promise<CompareAnswer> {
  const question = inFull(asked, source);
  const found = await comparedLives(connection, question, {
    effect: question.effect,
    wanted: question.adjust ?? null,
    strata: question.stratify ?? [],
    usual: source.kind === "workspace" ? USUAL : [],
  });
  const answer = compared(found, asked.effect, question, source);
  if (found.lives.high.length === 0)
    answer.warnings.push(...(await unmetWarnings(connection, "studied", question.where)));
  return answer;
}

/** The same of several effects among the columns that are held alike where none are named: the lives are read once. */
export async function askCompareEach(
  connection: DuckDBConnection,
  effects: readonly [string, ...string[]],
  asked: Omit<CompareQuestion, "effect" | "adjust" | "stratify">,
  source: Extract<Source, { kind: "workspace" }>,
): Promise<CompareAnswer[]> {
  const questions = effects.map((effect) => inFull({ ...asked, effect }, source));
  const found = await comparedLives(connection, questions[0]!, {
    effect: effects[0],
    wanted: null,
    strata: [],
    usual: USUAL,
  });
  return questions.map((question) => compared(ofEffect(found, question.effect), question.effect, question, source));
}

/** The same lives with another of their columns as the effect, and the usual ones beside it. */
function ofEffect(found: ComparedLives, effect: string): ComparedLives {
  const known = [found.effect, ...found.others];
  const named = (name: string) => known.filter((one) => one.name === name);
  const [own] = named(effect);
  if (own === undefined) throw new TypeError(`Cannot compare by ${effect}: it was not read`);
  return { ...found, effect: own, others: USUAL.filter((name) => name !== effect).flatMap(named) };
}

/** With what a question leaves open, and its effect as the records call it. */
function inFull(asked: CompareQuestion, source: Source): CompareQuestion {
  const effect = asked.effect === "part_batch" ? "batch" : asked.effect;
  return withGauge(ofOneSlot({ ...asked, effect }, source), source);
}

/** @param named - the effect as it was asked for */
function compared(found: ComparedLives, named: string, question: CompareQuestion, source: Source): CompareAnswer {
  refuseUnfit(question, found.effect);
  const failed = Uint8Array.from(found.lives.high, (end) => (end < Number.POSITIVE_INFINITY ? 1 : 0));
  const bands = bandsOf(found.effect, edgesOf(question, source));
  const cases = casesOf(found.effect, found.others, failed, question.adjust !== undefined);
  const scale = scaleOf(question, source);
  const adjusted = adjustedBy(found, cases, question, scale);
  const withUnknown = found.unknown.includes(1) ? ratioBy(unknownFailed(found), cases, question, scale) : null;
  const copied = copiedOf(found, cases, question, scale);
  const clock = source.kind === "workspace" ? question.clock : null;
  const answer: CompareAnswer = {
    schema: 1,
    command: "compare",
    answer: "",
    asOf: source.kind === "workspace" ? source.asOf : null,
    clock,
    level: question.level,
    basis: found.basis,
    warnings: [],
    rows: rowsCommand("life", question, source),
    effect: named,
    slot: question.slot ?? null,
    matters: question.matters,
    ...adjusted.said,
    crude: {
      lifeRatio: adjusted.said.contrasts[0]?.crude ?? adjusted.said.lifeRatio,
      ...crudeBands(found, bands, question.effect, question),
    },
    confounding: confoundingOf(bands, found.others),
    missing: cases.missing,
    copied,
    unknownAsFailure: withUnknown,
  };
  answer.answer = compareSentence(answer, source);
  answer.warnings = [
    ...sourceWarnings(source),
    ...outcomeWarnings(question.where),
    ...(question.bands === undefined && scale.unit !== null
      ? outerBandsWarnings(
          new Map(bands.map(({ name, rows }) => [name, rows.length])),
          edgesOf(question, source),
          scale.unit,
        )
      : []),
    ...compareWarnings(answer, cases, adjusted.straightened),
  ];
  return answer;
}

/** An option that says nothing of such an effect, or names a level that there isn't, is refused rather than passed over. */
function refuseUnfit({ effect, straight, bands, contrast, reference }: CompareQuestion, known: Known): void {
  if (known.kind === "measured") {
    if (reference === undefined) return;
    throw new UserError(
      `Cannot use --reference with ${effect}: it is measured, and has no levels; use --contrast A,B`,
      2,
    );
  }
  const given = [
    straight && "--straight",
    bands !== undefined && "--bands",
    contrast !== undefined && "--contrast",
  ].find(Boolean);
  if (given)
    throw new UserError(`Cannot use ${given} with ${effect}: it has levels, not measured values; leave it out`, 2);
  if (reference !== undefined && !known.words.includes(reference)) {
    throw new UserError(
      `Cannot hold ${effect} against "${reference}": its levels are ${known.words.toSorted().join(", ")}`,
      2,
    );
  }
}

/** Lives of different slots are not of one kind: the first bearing that is declared, else the first slot, where none is named. */
function ofOneSlot(question: CompareQuestion, source: Source): CompareQuestion {
  if (question.slot !== undefined || source.kind === "table") return question;
  const slots = Object.entries(source.configuration.slots);
  const [slot] = slots.find(([, { kind }]) => kind === "bearing") ?? slots[0]!;
  return { ...question, slot };
}

/** The workspace's figure for the gauge, where the question brings none. */
function withGauge(question: CompareQuestion, source: Source): CompareQuestion {
  if (question.gaugeSd !== undefined || question.effect !== "end_play" || source.kind === "table") return question;
  const { gauges, display } = source.configuration;
  if (gauges.end_play === undefined) return question;
  const { sd, unit, source: gaugeSource } = gauges.end_play;
  return { ...question, gaugeSd: Number(inUnit(sd, unit, display.length).toPrecision(12)), gaugeSource };
}

/** Whether readings look copied, and what the ratio is without those at the most frequent value. */
function copiedOf(
  found: ComparedLives,
  cases: Cases,
  question: CompareQuestion,
  scale: Scale,
): CompareAnswer["copied"] {
  const { effect } = found;
  if (effect.kind !== "measured" || question.effect !== "end_play") return null;
  const readings = Float64Array.from(cases.rows, (life) => effect.values[life]!);
  const alike = likeReadings(readings, question.gaugeSd === undefined ? {} : { gaugeSd: question.gaugeSd });
  if (!alike.copied || alike.mostFrequent === null) return null;
  const rows = cases.rows.filter(
    (_, at) => Math.abs(readings[at]! - alike.mostFrequent!) > 1e-9 * Math.abs(readings[at]!),
  );
  const { lifeRatio } = ratioBy(found, { ...cases, rows }, question, scale);
  return { reasons: alike.reasons, value: alike.mostFrequent, lives: alike.times, lifeRatio };
}

function unknownFailed(found: ComparedLives): ComparedLives {
  const { lives, unknown } = found;
  return {
    ...found,
    lives: { ...lives, high: lives.high.map((end, life) => (unknown[life] === 1 ? lives.low[life]! : end)) },
  };
}

/** Edges between bands: those asked for, or of the workspace, in the unit of the records. */
function edgesOf({ bands, effect }: CompareQuestion, source: Source): readonly number[] {
  if (bands !== undefined) return bands;
  return effect === "end_play" && source.kind === "workspace" ? bandEdges(source.configuration) : [];
}

/** The unit of a measured effect as lives show it, and the maker's window of the end play in it. */
function scaleOf({ effect }: CompareQuestion, source: Source): Scale {
  if (source.kind === "table") return { unit: null, window: null };
  const { windows, display } = source.configuration;
  const window =
    effect === "end_play" && windows.end_play !== undefined ? windowIn(windows.end_play, display.length) : null;
  return { unit: unitOf(effect, display), window };
}
