import type { DuckDBConnection, JS } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import { rows } from "../store/rows.ts";
import { runStep } from "../store/run-step.ts";
import { leftOutWords } from "./left-out-words.ts";
import type { Place } from "./trace-id.ts";
import type { StoryLine } from "./trace-types.ts";
import { count } from "./wording.ts";

type Story = Record<string, JS>;

/** How a life or a build began and ended and how long it ran, each with whence, and the source rows that say so. */
export async function lifeStory(
  connection: DuckDBConnection,
  id: string,
): Promise<{ lines: StoryLine[]; places: Place[] }> {
  await runStep(connection, "57_story", { id });
  const [story] = await rows(
    connection,
    "select * replace (start_on::varchar as start_on, stop_on::varchar as stop_on, records_begin::varchar as records_begin) from story",
  );
  if (story === undefined) throw new RangeError(`Cannot tell the story of ${id}: it has gone`);
  const names = await endNames(connection, story);
  return {
    lines: [
      startLine(story, names.start),
      ...observedLine(story),
      stopLine(story, names.stop),
      statusLine(story),
      hoursLine(story),
      daysLine(story),
      ...partLine(story),
    ],
    places: await placesOf(connection),
  };
}

/** What to trace on: the card where there is one, else the source row. */
async function endNames(connection: DuckDBConnection, story: Story): Promise<{ start: string[]; stop: string[] }> {
  const nameOf = async (end: "start" | "stop"): Promise<string[]> => {
    const card = story[`${end}_card`];
    if (card !== null) return [`${String(story["fleet"])}/${String(card)}`];
    const { name } = await columns(
      connection,
      "select concat_ws(':', name, $row::integer) as name from source_name where file_id = $file",
      { name: "text" },
      { file: number(story[`${end}_file`]), row: number(story[`${end}_row`]) },
    );
    return name;
  };
  return { start: await nameOf("start"), stop: await nameOf("stop") };
}

/** The rows of both ends; of a card that takes several rows those that speak of the slot too. */
async function placesOf(connection: DuckDBConnection): Promise<Place[]> {
  const found = await columns(
    connection,
    `select distinct file_id, row from (
       select start_file as file_id, start_row as row from story
       union all select stop_file, stop_row from story
       union all select f.file_id, f.row from records.fitting f, story s
       where f.fleet = s.fleet and f.card in (s.start_card, s.stop_card) and (f.slot = s.slot or s.slot is null)
     ) where file_id is not null order by file_id, row`,
    { file_id: "integer", row: "integer" },
  );
  return Array.from(found.file_id, (fileId, index) => ({ fileId, row: found.row[index]! }));
}

const STARTS: Record<string, string> = {
  installed: "the day that its card says it went back into service",
  built: "its card has no day of return: the day it was built is taken",
  removed: "its card has no later day: the day it was taken out is taken",
  commissioned: "the day of commissioning in the list of units",
  last_rebuilt: "the last rebuild in the list of units, from before the records",
};

function startLine(story: Story, trace: string[]): StoryLine {
  const marked = textOf(story["start_marked"]);
  const words = marked === null ? "nothing on record says when it began" : (STARTS[marked] ?? marked);
  const card = textOf(story["start_card"]);
  return {
    about: "start",
    value: textOf(story["start_on"]),
    words: card === null ? words : `fitted by card ${card}; ${words}`,
    trace,
  };
}

function observedLine(story: Story): StoryLine[] {
  if (story["early"] !== true) return [];
  const begin = textOf(story["records_begin"]);
  return [
    {
      about: "observed",
      value: begin,
      words: "it began before the records do: it is under observation from here on",
      trace: [],
    },
  ];
}

function stopLine(story: Story, trace: string[]): StoryLine {
  return { about: "stop", value: textOf(story["stop_on"]), words: stopWords(story), trace };
}

function stopWords(story: Story): string {
  const card = textOf(story["stop_card"]);
  if (card !== null) return `taken out by card ${card}${reasonWords(story)}`;
  switch (textOf(story["followed"])) {
    case "retired":
      return "the unit was taken out of use";
    case "watched":
      return "not ended: followed to the last list of units in service or meter round that has the unit";
    case "unwatched":
      return "not ended: its fleet has a list of units in service, and the unit is neither on it nor read";
    default:
      return "not ended: followed to the last day looked at, with nothing to show that it still runs";
  }
}

function reasonWords(story: Story): string {
  const reason = textOf(story["reason"]);
  return reason === null || reason === "unknown" ? ", which gives no reason" : `, for ${reason}`;
}

function statusLine(story: Story): StoryLine {
  return { about: "status", value: textOf(story["status"]), words: statusWords(story), trace: [] };
}

function statusWords(story: Story): string {
  const status = textOf(story["status"]);
  const condition = textOf(story["told_condition"]);
  const damage = textOf(story["damage_mode"]);
  if (story["slot"] === null) return reasonOfBuild(status, textOf(story["followed"]) === "retired");
  if (status === "running") return "it has not ended";
  if (textOf(story["stop_card"]) === null) return "the unit went out of use with it unfailed";
  const found =
    condition === null ? "the card does not say how it was found" : `the card says it was found ${condition}`;
  if (status === "failed") {
    if (condition === "failed" || condition === "worn") return found;
    if (story["told_named"] === true) return "the reason of the rebuild names its slot";
    return `${found}; it names a damage, ${damage ?? "not told"}`;
  }
  return status === "suspended" ? found : `${found}, and nothing else shows whether it had failed`;
}

function reasonOfBuild(status: string | null, retired: boolean): string {
  if (status === "end") return retired ? "the unit was taken out of use, and no rebuild ended it" : "it has not ended";
  return status === "unknown" ? "the card of the rebuild gives no reason" : `the card of the rebuild says ${status}`;
}

function hoursLine(story: Story): StoryLine {
  const hours = numberOf(story["hours"]);
  if (hours === null) {
    const reason = textOf(story["left_out_hours"]);
    const words = reason === null ? "no hours" : `no hours (${reason}): ${leftOutWords(reason)}`;
    return { about: "hours", value: null, words, trace: [] };
  }
  const parts = [meterWords(story, hours), entryWords(story), hiddenWords(story)].filter((part) => part !== "");
  return { about: "hours", value: hours, words: parts.join("; "), trace: [] };
}

/** From which meter to which, and why the difference may be another. */
function meterWords(story: Story, hours: number): string {
  const from = numberOf(story["meter_installed"]) ?? numberOf(story["meter_before"]);
  const to = numberOf(story["meter_removed"]);
  const known =
    from === null || to === null ? "" : `the meter stood at ${shown(from)} h and ${shown(to)} h on the cards`;
  const differs = from !== null && to !== null && Math.abs(to - from - hours) > ROUNDING;
  const parts = [
    known,
    story["hours_estimated"] === true ? ESTIMATED : differs ? reckonedIn(story) : "",
    rounds(story),
  ];
  return parts.filter((part) => part !== "").join("; ") || "from the readings at both ends";
}

/** Hours are kept in tenths: two of them rounded differ by at most this, h. */
const ROUNDING = 0.15;

const ESTIMATED =
  "estimated: interpolated between the readings around, or carried on at the unit's own rate, by days in service";

function reckonedIn(story: Story): string {
  const changed = (numberOf(story["changed"]) ?? 0) > 0;
  return changed
    ? "a new meter in between is reckoned in"
    : "the meter went over its last figure, or was set anew, which is reckoned in";
}

function rounds(story: Story): string {
  const between = numberOf(story["readings"]) ?? 0;
  return between === 0 ? "" : `${count(between, "meter round")} in between`;
}

function entryWords(story: Story): string {
  const entry = numberOf(story["entry_hours"]) ?? 0;
  return entry > 0 ? `under observation from ${shown(entry)} h on` : "";
}

function hiddenWords(story: Story): string {
  const low = numberOf(story["low_hours"]);
  return low === null
    ? ""
    : `found when opened for something else: it failed somewhere between ${shown(low)} h and then`;
}

function daysLine(story: Story): StoryLine {
  const days = numberOf(story["days"]);
  const reason = textOf(story["left_out_days"]);
  if (days !== null)
    return { about: "days", value: days, words: "days in service, without those in the shop", trace: [] };
  const words = reason === null ? "no days" : `no days (${reason}): ${leftOutWords(reason)}`;
  return { about: "days", value: null, words, trace: [] };
}

function partLine(story: Story): StoryLine[] {
  const part = textOf(story["part"]);
  const batch = textOf(story["batch"]);
  if (part === null) return [];
  return [{ about: "part", value: part, words: batch === null ? "as fitted" : `as fitted, batch ${batch}`, trace: [] }];
}

function shown(hours: number): string {
  return hours.toLocaleString("en-US", { maximumFractionDigits: 1 });
}

function textOf(value: JS | undefined): string | null {
  return value === null || value === undefined ? null : String(value);
}

function numberOf(value: JS | undefined): number | null {
  return value === null || value === undefined ? null : Number(value);
}

function number(value: JS | undefined): number {
  return numberOf(value) ?? 0;
}
