import type { Configuration } from "../workspace/configuration.ts";
import type { Gap } from "./audit-types.ts";
import { leftOutWords } from "./left-out-words.ts";
import { allOf, count, wholePercent } from "./wording.ts";

type Told = Pick<Gap, "gap" | "reason" | "missing" | "failures" | "fleets">;

/** A gap in a few words. */
export function gapTitle(
  { gap, reason }: Pick<Gap, "gap" | "reason">,
  { clock }: Pick<Configuration, "clock">,
): string {
  if (gap === "left_out") return `Lives without ${clock}: ${leftOutWords(reason ?? "")}`;
  return TITLES[gap] ?? gap.replaceAll("_", " ");
}

const TITLES: Record<string, string> = {
  no_end_play: "Lives without as-built end play",
  no_lube: "Lives without lubrication on record",
  no_condition: "Components replaced without a word on how they were found",
  assumed_running: "Running lives with nothing to show that they still run",
  no_position: "Cards without position",
  no_reason: "Cards without a reason for the rebuild",
  no_date: "Cards without any date",
  set_aside: "Rows of job cards in quarantine",
  no_list: "No list of units in service",
  undated_list: "A list of units without the day it was made",
  no_rounds: "No meter rounds",
};

/** A gap as a sentence for people: how much is missing, and what can't be answered for it. */
export function gapSentence(gap: Told, configuration: Pick<Configuration, "clock" | "fleets">): string {
  return (SENTENCES[gap.gap] ?? otherGap)(gap, configuration);
}

type Sentence = (gap: Told, configuration: Pick<Configuration, "clock" | "fleets">) => string;

const SENTENCES: Record<string, Sentence> = {
  left_out: ({ reason, missing, failures }, { clock }) =>
    `${count(missing.count, "life", "lives")} of ${number(missing.of)} ${missing.count === 1 ? "has" : "have"} no ${clock}, for ${leftOutWords(reason ?? "")}: ${failuresLost(failures, "used")}.`,
  no_end_play: ({ missing, failures }) =>
    `${ofLives(missing, "no as-built end play")}: ${failuresLost(failures, "used to compare builds by it")}.`,
  no_lube: ({ missing, failures }) =>
    `${ofLives(missing, "no lubrication on record")}: ${failuresLost(failures, "used to compare oil and grease")}.`,
  no_condition: ({ missing }) =>
    `${number(missing.count)} of ${count(missing.of, "component")} replaced (${wholePercent(missing.share)}) came out without a word on how ${missing.count === 1 ? "it was found: its ending is" : "they were found: their endings are"} unknown, and answers are given both ways.`,
  assumed_running: ({ missing }) =>
    `${number(missing.count)} of ${count(missing.of, "running life", "running lives")} (${wholePercent(missing.share)}) ${missing.count === 1 ? "is" : "are"} followed to the last day looked at with nothing to show that ${missing.count === 1 ? "it still runs" : "they still run"}.`,
  no_position: ({ missing, failures }) =>
    `${ofCards(missing, "names no position", "name no position")}: ${failuresLost(failures, "told apart by place", REBUILDS)}.`,
  no_reason: ({ missing }) =>
    `${ofCards(missing, "gives no reason for the rebuild: it counts neither as failure nor as planned", "give no reason for the rebuild: they count neither as failures nor as planned")}.`,
  no_date: ({ missing }) =>
    `${ofCards(missing, "has no date: it is in no answer", "have no date: they are in no answer")}.`,
  set_aside: ({ missing: { count: aside, of, share } }) =>
    `${number(aside)} of ${count(of, "row")} of job cards (${wholePercent(share)}) ${aside === 1 ? "is" : "are"} in quarantine: what such a rebuild ended is in no answer, and the life before it runs on as though the frame had not been opened.`,
  no_list: ({ fleets }, configuration) =>
    `${titles(fleets, configuration)}: no list of units in service, so that lives of units that never came back are unknown.`,
  undated_list: ({ fleets }, configuration) =>
    `${titles(fleets, configuration)}: a list of units is on record, but not the day it was made: it doesn't show that a unit on it was still in service, nor that one missing from it was not. Map listed_on in its pipeline, to a column or one value for all rows.`,
  no_rounds: ({ fleets }, configuration) =>
    `${titles(fleets, configuration)}: no meter rounds, so that hours between rebuilds come from the cards alone and nothing shows that a unit still runs.`,
};

function otherGap({ gap, missing }: Told): string {
  return `${gap.replaceAll("_", " ")}: ${number(missing.count)} of ${number(missing.of)}.`;
}

function ofLives({ count: missing, of, share }: Gap["missing"], lack: string): string {
  return `${number(missing)} of ${count(of, "life", "lives")} that can be used (${wholePercent(share)}) ${missing === 1 ? "has" : "have"} ${lack}`;
}

function ofCards({ count: missing, of, share }: Gap["missing"], one: string, many: string): string {
  return `${number(missing)} of ${count(of, "card")} (${wholePercent(share)}) ${missing === 1 ? one : many}`;
}

type Named = [one: string, many: string];
/** Of cards; a frame that failed is one, whatever failed in it. */
const REBUILDS: Named = ["rebuild for failure", "rebuilds for failure"];

function failuresLost(failures: Gap["failures"], use: string, [one, many]: Named = ["failure", "failures"]): string {
  if (failures === null || failures.count === 0) return `no ${one} is lost by it`;
  return `${count(failures.count, one, many)} (${wholePercent(failures.share)} of ${number(failures.of)}) can't be ${use}`;
}

function titles(fleets: Told["fleets"], { fleets: known }: Pick<Configuration, "fleets">): string {
  return allOf(fleets.map(({ fleet }) => known.find(({ name }) => name === fleet)?.title ?? fleet));
}

function number(value: number): string {
  return value.toLocaleString("en-US");
}
