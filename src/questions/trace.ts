import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { columns } from "../store/columns.ts";
import { runStep } from "../store/run-step.ts";
import type { Configuration } from "../workspace/configuration.ts";
import type { Settings } from "../workspace/workspace.ts";
import { derivedOrNone } from "./derived-or-none.ts";
import { aboutWords, quoted } from "./finding-words.ts";
import { cardPlaces, cardVersions } from "./trace-card.ts";
import { cardPlacesAside } from "./trace-card-aside.ts";
import { asideSentence, cardSentence, endings } from "./trace-card-words.ts";
import { findTarget, type Target } from "./trace-id.ts";
import { partRecords, partSentence } from "./trace-part.ts";
import { positionSentence } from "./trace-place.ts";
import { sourceRows } from "./trace-rows.ts";
import { lifeStory } from "./trace-story.ts";
import type { MergedNumber, SourceRow, StoryLine, TraceAnswer } from "./trace-types.ts";
import { buildEnding, mergedNumbers, type TracedBuild, tracedBuilds, unitRecords } from "./trace-unit.ts";
import { count } from "./wording.ts";

export type TraceQuestion = { id: string; asOf?: string };

type Asked = { connection: DuckDBConnection; settings: Settings; typed: string; derive: () => Promise<boolean> };
type Found = Pick<TraceAnswer, "answer" | "story" | "records" | "versions" | "rows"> &
  Partial<Pick<TraceAnswer, "merged">>;

/**
 * From a card, unit, position, part, life, build, source row or finding to the source rows that it was made of. Works on a read-only store.
 * @throws UserError if the id names nothing, or several things
 */
export async function askTrace(
  connection: DuckDBConnection,
  settings: Settings,
  { id, asOf }: TraceQuestion,
): Promise<TraceAnswer> {
  let day: string | null = null;
  const derive = async () => {
    day ??= await derived(connection, settings.configuration, asOf);
    return day !== null;
  };
  await runStep(connection, "50_noted");
  await runStep(connection, "54_traceable");
  const target = await findTarget(connection, id, derive);
  const found = await tracedTarget(target, { connection, settings, typed: id, derive });
  return {
    schema: 1,
    command: "trace",
    asOf: ["row", "column", "card", "part"].includes(target.kind) ? null : day,
    id: target.id,
    kind: target.kind,
    merged: [],
    ...found,
    warnings: warningsOf(found.rows),
  };
}

/** Null where no record has a date: then there are no lives to trace. */
async function derived(
  connection: DuckDBConnection,
  configuration: Configuration,
  asOf: string | undefined,
): Promise<string | null> {
  const found = await derivedOrNone(connection, { configuration, ...(asOf !== undefined && { asOf }) });
  return found?.asOf ?? null;
}

function tracedTarget(target: Target, asked: Asked): Promise<Found> {
  switch (target.kind) {
    case "card":
      return tracedCard(target.id, asked);
    case "unit":
      return tracedUnit(target.id, asked);
    case "position":
      return tracedPosition(target.id, asked);
    case "part":
      return tracedPart(target.id, asked);
    case "life":
    case "installation":
      return tracedLife(target, asked);
    case "row":
      return tracedRow(target, asked);
    case "column":
      return tracedColumn(target, asked);
  }
}

async function tracedCard(id: string, { connection, settings }: Asked): Promise<Found> {
  const places = await cardPlaces(connection, id);
  const aside = await cardPlacesAside(connection, settings, id);
  const rows = await sourceRows(connection, settings, [...places, ...aside]);
  const told = new Set(places.map(({ trace }) => trace));
  const own = rows.filter(({ trace }) => told.has(trace));
  const versions = cardVersions(places, own);
  const answer = [cardSentence(id, versions, own), ...asideSentence(rows.filter(({ trace }) => !told.has(trace)))];
  return { answer: answer.join(" "), story: [], records: [], versions, rows };
}

async function tracedUnit(id: string, { connection, typed, derive }: Asked): Promise<Found> {
  const records = await unitRecords(connection, id);
  const story = (await derive()) ? (await tracedBuilds(connection, { kind: "unit", id })).map(asStory) : [];
  const days = records.flatMap(({ on }) => (on === null ? [] : [on]));
  const span = days.length === 0 ? "" : ` from ${days[0]} to ${days.at(-1)}`;
  const cards = records.filter(({ kind }) => kind === "card").length;
  const answer = `Unit ${id} has ${count(records.length, "record")}${span}, ${count(cards, "card")} among them, and ${count(story.length, "build")}.`;
  const merged = await mergedNumbers(connection, id);
  return {
    answer: withMerged(answer, merged, { id, typed }),
    merged,
    story,
    records,
    versions: [],
    rows: [],
  };
}

async function tracedPosition(id: string, { connection, derive }: Asked): Promise<Found> {
  const builds = (await derive()) ? await tracedBuilds(connection, { kind: "position", id }) : [];
  return { answer: positionSentence(id, builds), story: builds.map(asStory), records: [], versions: [], rows: [] };
}

async function tracedPart(id: string, { connection }: Asked): Promise<Found> {
  const records = await partRecords(connection, id);
  return { answer: partSentence(id, records), story: [], records, versions: [], rows: [] };
}

function asStory({ about, value, words, trace }: TracedBuild): StoryLine {
  return { about, value, words, trace };
}

/** Begins with the number that was asked for, where it was merged into the unit's. */
function withMerged(answer: string, merged: MergedNumber[], { id, typed }: { id: string; typed: string }): string {
  const asked = merged.find(({ number }) =>
    `/${typed.toLowerCase()}`.replace(":", "/").endsWith(`/${number.toLowerCase()}`),
  );
  const said = ({ number, because, rows }: MergedNumber, unit: string) =>
    `${number} was taken for ${unit} in ${count(rows, "row")}, by ${because}.`;
  const first = asked === undefined ? [] : [said(asked, id.slice(id.indexOf("/") + 1))];
  const others = merged.filter((one) => one !== asked).map((one) => said(one, "it"));
  return [...first, answer, ...others].join(" ");
}

async function tracedLife(target: Target, { connection, settings }: Asked): Promise<Found> {
  const { lines, places } = await lifeStory(connection, target.id);
  const rows = await sourceRows(connection, settings, places);
  const value = (about: StoryLine["about"]) => lines.find((line) => line.about === about)?.value ?? null;
  const [hours, status] = [value("hours"), value("status")];
  const ran = hours === null ? "no hours can be given" : `${Number(hours).toLocaleString("en-US")} h`;
  const what = target.kind === "life" ? "Life" : "Build";
  const ended = status === "end" ? lines.find(({ about }) => about === "stop")?.words : buildEnding(String(status));
  return {
    answer: `${what} ${target.id} ran from ${value("start") ?? "a day not known"} to ${value("stop") ?? "a day not known"}, ${ran}: ${target.kind === "life" ? status : ended}.`,
    story: lines,
    records: [],
    versions: [],
    rows,
  };
}

async function tracedRow(target: Target & { kind: "row" }, { connection, settings }: Asked): Promise<Found> {
  const rows = await sourceRows(connection, settings, target.places);
  const field = target.field;
  const said = field === null ? "" : fieldWords(rows, field);
  return { answer: `Row ${target.id}: ${endings(rows)}${said}.`, story: [], records: [], versions: [], rows };
}

/** What was found of the field that the id names, or changed in it. */
function fieldWords(rows: SourceRow[], field: string): string {
  const found = rows.flatMap(({ findings }) => findings.filter((finding) => finding.field === field));
  const changed = rows.flatMap(({ changes }) => changes.filter((change) => change.field === field));
  const words = [
    ...found.map((finding) => `${aboutWords(finding)}, ${finding.rule}: ${finding.message}`),
    ...changed.map(
      (change) =>
        `${aboutWords({ ...change, value: change.before })} was changed to ${quoted(change.after)} by ${change.rule}`,
    ),
  ];
  return words.length === 0 ? `; nothing was found of ${field}` : `; ${words.join("; ")}`;
}

async function tracedColumn(target: Target & { kind: "column" }, { connection }: Asked): Promise<Found> {
  const found = await columns(
    connection,
    `select rule, message, trace from noted
     where list_contains($files::integer[], file_id) and field = $field and row is null order by trace, rule`,
    { rule: "text", message: "text", trace: "text" },
    { files: JSON.stringify(target.files), field: target.field },
  );
  if (found.rule.length === 0) {
    throw new UserError(
      `Cannot trace "${target.id}": nothing was found of this column as a whole; name a row of the file, FILE:ROW`,
    );
  }
  const story = found.rule.map(
    (rule, index): StoryLine => ({
      about: "column",
      value: rule,
      words: found.message[index]!,
      trace: [found.trace[index]!],
    }),
  );
  return {
    answer: `Column ${target.id}: ${found.message[0]}.`,
    story,
    records: [],
    versions: [],
    rows: [],
  };
}

function warningsOf(rows: SourceRow[]): string[] {
  const missing = rows.flatMap((row) => (row.missing === null ? [] : [row.missing]));
  const moved = rows.flatMap(({ state, path }) => {
    if (state === "gone") return [`${path} is no longer there: this is what it said when it was read`];
    return state === "replaced"
      ? [`${path} has been replaced by another of its name: this is what it said when it was read`]
      : [];
  });
  return [...new Set([...missing, ...moved])];
}
