import type { Draft } from "./draft.ts";

/** What a set of exports lacks, and what that costs. */
export type Lack = { what: string; costs: string };

type Has = (record: Draft["record"], key: string) => boolean;

// What each lack costs, in the order of its weight.
const LACKS: { what: string; costs: string; isThere: (drafts: Draft[], has: Has) => boolean }[] = [
  {
    what: "job cards",
    costs: "there are no rebuilds, and so no lives to learn from",
    isThere: (drafts) => drafts.some(({ record, layout }) => record === "rebuild" && layout !== "measured"),
  },
  {
    what: "a list of units",
    costs: "lives of units that never came back are unknown, and every figure speaks of returned units alone",
    isThere: (drafts) => drafts.some(({ record }) => record === "unit"),
  },
  {
    what: "meter rounds or a day on which units were seen in service",
    costs: "whether a unit still runs is assumed, up to the as-of date",
    isThere: (drafts, has) => drafts.some(({ record }) => record === "reading") || has("unit", "listed_on"),
  },
  {
    what: "units taken out of use",
    costs: "a frame that was scrapped or sold counts as still running",
    isThere: (drafts) => drafts.some(({ record }) => record === "retirement"),
  },
  {
    what: "hours",
    costs: "answers count calendar days, in which an idle frame ages like a busy one",
    isThere: (_, has) => has("rebuild", "hours_removed") || has("reading", "hours"),
  },
  {
    what: "positions",
    costs: "a bad place and a bad frame can't be told apart",
    isThere: (_, has) => has("rebuild", "position"),
  },
  {
    what: "the reason for removal",
    costs: "a rebuild for failure can't be told from a planned one",
    isThere: (_, has) => has("rebuild", "reason"),
  },
  {
    what: "the condition found",
    costs: "a part that was replaced because it had failed can't be told from one replaced because the frame was open",
    isThere: (drafts) =>
      drafts.some(({ fields }) =>
        fields.some(({ key, slot }) => slot !== "frame" && (key === "condition" || key === "damage_mode")),
      ),
  },
  {
    what: "columns per bearing and seal",
    costs: "each rebuild counts for the frame as a whole",
    isThere: (drafts) => !drafts.some(({ fields }) => fields.some(({ slot }) => slot === "frame")),
  },
  {
    what: "the day of going back into service",
    costs: "time on the shelf counts as time in service",
    isThere: (_, has) => has("rebuild", "installed_on"),
  },
  {
    what: "the end play as built",
    costs: "builds can't be compared by it",
    isThere: (_, has) => has("rebuild", "end_play"),
  },
  {
    what: "card numbers",
    costs: "a card is known by its unit and day, so that one written anew with another day counts twice",
    isThere: (drafts) =>
      !drafts.some(({ fields }) =>
        fields.some(({ key, entries }) => key === "card" && entries.some(([name]) => name === "compose")),
      ),
  },
];

/** What the exports of some fleets lack, one plain sentence each. */
export function lacksOf(byFleet: Map<string, Draft[]>): Lack[] {
  return LACKS.flatMap(({ what, costs, isThere }) => {
    const without = [...byFleet].filter(([, drafts]) => !isThere(drafts, hasIn(drafts))).map(([fleet]) => fleet);
    if (without.length === 0) return [];
    const where = without.length === byFleet.size ? "" : ` for ${without.join(" and ")}`;
    return [{ what: `${what}${where}`, costs }];
  });
}

function hasIn(drafts: Draft[]): Has {
  return (record, key) =>
    drafts.some(
      (draft) =>
        draft.record === record &&
        (draft.fields.some((field) => field.key === key) || draft.measures.some((measure) => measure.field === key)),
    );
}

/** A lack as one sentence. */
export function lackSentence({ what, costs }: Lack): string {
  return `Without ${what}, ${costs}.`;
}
