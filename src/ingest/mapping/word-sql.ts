import { quoteText } from "../../store/quote.ts";
import type { CanonicalField } from "./canonical-fields.ts";
import type { FieldPlan, Known } from "./field-plan.ts";

/** A word as it is compared: no case, single blanks, none around it. */
export function normalWord(word: string): string {
  return word.trim().replace(/\s+/g, " ").toLowerCase();
}

/** SQL of the same on a text without outer blanks. */
export function comparedWord(text: string): string {
  return `case when contains(${text}, '  ') then lower(regexp_replace(${text}, '\\s+', ' ', 'g')) else lower(${text}) end`;
}

/** Our own words for a field; none where it takes any text. */
export function canonicalWords(
  { field }: Pick<FieldPlan, "field">,
  known: Pick<Known, "fleets" | "slots">,
): readonly string[] | undefined {
  switch (field.kind) {
    case "words":
      return field.words;
    case "yesno":
      return ["yes", "no"];
    case "fleet":
      return known.fleets;
    case "slot":
      return known.slots;
    case "text":
    case "date":
    case "number":
      return undefined;
  }
}

const YES_NO: Record<string, string> = { true: "yes", false: "no" };

/** A target as it is stored: `true` and `false` are YAML's yes and no. */
export function targetWord({ field }: Pick<FieldPlan, "field">, word: string): string {
  return field.kind === "yesno" ? (YES_NO[word] ?? word) : word;
}

/** What each of the owner's words, in its compared form, stands for; without a list the words are our own. */
export function targetsOf(plan: FieldPlan, known: Known): Map<string, string> {
  const { words } = plan.source;
  if (words === undefined) return new Map((canonicalWords(plan, known) ?? []).map((word) => [normalWord(word), word]));
  const pairs = Object.entries(words).flatMap(([word, target]): [string, string][] =>
    target === null ? [] : [[normalWord(word), targetWord(plan, target)]],
  );
  return new Map(pairs);
}

/**
 * SQL that turns a text into the word it stands for, and SQL of the message where it stands for none.
 * @param ours - the words that it may stand for
 */
export function wordSql(
  plan: FieldPlan,
  text: string,
  word: string,
  { targets, ours }: { targets: Map<string, string>; ours: readonly string[] },
): { value: string; message: string } {
  const branches = [...targets].map(([from, to]) => `when ${quoteText(from)} then ${quoteText(to)}`);
  const value = branches.length === 0 ? "null::varchar" : `case ${comparedWord(text)} ${branches.join(" ")} end`;
  return {
    value,
    message: `case when ${word} is null then ${unknownMessage(plan, text, [...targets.keys()], ours)} end`,
  };
}

/** Where the workspace names what a field of such a kind may hold. */
const OWN_NAMES: Partial<Record<CanonicalField["kind"], string>> = { fleet: "fleets", slot: "slots" };

/** Names the nearest known word where one is near (at most half of its letters differ), else the known words. */
function unknownMessage({ name, field }: FieldPlan, text: string, known: string[], ours: readonly string[]): string {
  if (known.length === 0) {
    const one = ours.length === 0 ? "" : ` as one of ${ours.join(", ")}, or`;
    return quoteText(
      `no word is listed; list it under "words" of ${name} in the pipeline,${one} as ~ if it says nothing`,
    );
  }
  const own = OWN_NAMES[field.kind];
  const remedy =
    own === undefined
      ? `; correct the cell, or add the word under "words" of ${name} in the pipeline`
      : `; correct the cell, add the word under "words" of ${name} in the pipeline, or what it names under "${own}" in framelife.yaml`;
  const listed =
    known.length <= 12 ? known.join(", ") : `${known.slice(0, 12).join(", ")} and ${known.length - 12} more`;
  const all = quoteText(`no known word; known are ${listed}${remedy}`);
  const distances = `list_transform([${known.map(quoteText).join(", ")}], lambda w: {d: levenshtein(lower(${text}), w), w: w})`;
  const nearest = `list_sort(${distances})[1]`;
  return `case when ${nearest}.d * 2 <= length(${nearest}.w)
    then 'no known word; the nearest known is "' || ${nearest}.w || ${quoteText(`"${remedy}`)} else ${all} end`;
}
