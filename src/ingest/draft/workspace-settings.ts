import { inUnit, LENGTH_UNITS, type LengthUnit } from "../../workspace/lengths.ts";
import type { Draft, DraftFleet } from "./draft.ts";
import type { Question } from "./opinion.ts";
import type { OwnSlot } from "./own-slots.ts";
import { shown } from "./shown.ts";
import { SLOT_TITLES } from "./words/slot-words.ts";

/** What the exports say of the workspace as a whole. */
export type Settings = {
  title: string;
  fleets: (DraftFleet & { recordsBegin?: string })[];
  slots: string[];
  /** Those of them that are named after words of the exports. */
  ownSlots: OwnSlot[];
  clock: "hours" | "days";
  clockEvidence: string;
  length: LengthUnit;
  temperature: "C" | "F";
  displayEvidence: string;
  questions: Question[];
};

/** Slots of a workspace without any card. */
const USUAL = ["drive_end_bearings", "pump_end_bearing", "drive_end_seals", "pump_end_seals"];

/** The slots that the drafts name, in the order of a frame. */
export function slotsOf(drafts: Draft[]): string[] {
  const named = new Set(
    drafts.flatMap(({ fields }) =>
      fields.flatMap(({ key, slot, words }) => [
        slot,
        ...(["slot", "failed_slot"].includes(key) ? (words ?? []).map(({ target }) => target) : []),
      ]),
    ),
  );
  const own = drafts.flatMap(({ ownSlots }) => ownSlots.map(({ name }) => name));
  const slots = [...new Set([...Object.keys(SLOT_TITLES), ...own])].filter((slot) => named.has(slot));
  return slots.length === 0 ? USUAL : slots;
}

/** Fleets, slots, clock and units that the drafts speak for. */
export function settingsOf(drafts: Draft[], shop: string): Settings {
  const fleets = fleetsOf(drafts);
  const [length, ...others] = unitsOf(drafts, "end_play");
  const [temperature] = unitsOf(drafts, "ring_temperature");
  const lengthUnit = LENGTH_UNITS.find((unit) => unit === (length === "0.01mm" ? "mm" : length)) ?? "thou";
  const own = ownSlotsOf(drafts);
  const metric = lengthUnit === "mm" || lengthUnit === "um";
  const meters = drafts.filter(({ fields }) => fields.some(({ key }) => key === "hours_removed" || key === "hours"));
  return {
    title: shop,
    fleets,
    slots: slotsOf(drafts),
    ownSlots: own,
    clock: meters.length > 0 ? "hours" : "days",
    clockEvidence:
      meters.length > 0
        ? `meter hours stand in ${meters.map(({ name }) => name).join(", ")}`
        : "no export has meter hours",
    length: lengthUnit,
    temperature: temperature === "C" || temperature === "F" ? temperature : metric ? "C" : "F",
    displayEvidence: displayEvidenceOf(length, others),
    questions: [...beginQuestions(fleets), ...own.map(slotQuestion)],
  };
}

function beginQuestions(fleets: Settings["fleets"]): Question[] {
  return fleets.flatMap(({ name, recordsBegin }): Question[] =>
    recordsBegin === undefined
      ? []
      : [
          {
            id: `${name}.records_begin`,
            text: `every rebuild of ${name} since ${recordsBegin} is taken to be on record, for that is its first card; lives that began before come under observation late`,
            options: [],
            cells: 0,
          },
        ],
  );
}

function ownSlotsOf(drafts: Draft[]): OwnSlot[] {
  const own = drafts.flatMap(({ ownSlots }) => ownSlots);
  const slots = slotsOf(drafts);
  return own.filter(
    ({ name }, index) => slots.includes(name) && own.findIndex((other) => other.name === name) === index,
  );
}

function slotQuestion({ name, title }: OwnSlot): Question {
  const text = `${shown(title)} is a slot only because the exports call a component so; its title, quantity (1) and kind (other) are guesses`;
  return { id: `${name}.slot`, text, options: [], cells: 0 };
}

function displayEvidenceOf(length: string | undefined, others: string[]): string {
  if (length === undefined) return "no export has end play; change it as you like";
  return others.length === 0
    ? `end play is written in ${length}`
    : `end play is written in ${length} on most cards, in ${others.join(" and ")} on others`;
}

/** The units that the drafts write a value in, those of most rows first. */
function unitsOf(drafts: Draft[], key: string): string[] {
  const rows = new Map<string, number>();
  for (const draft of drafts) {
    const named = [
      ...draft.fields.filter((field) => field.key === key),
      ...draft.measures.filter(({ field }) => field === key),
    ];
    for (const { entries } of named) {
      const unit = entries.find(([name]) => name === "unit")?.[1];
      if (unit !== undefined) rows.set(String(unit), (rows.get(String(unit)) ?? 0) + cardsOf(draft));
    }
  }
  return [...rows].sort((a, b) => b[1] - a[1]).map(([unit]) => unit);
}

/** Cards of a draft: long ones have a row for each slot. */
function cardsOf({ fields, rows }: Draft): number {
  return fields.find(({ key }) => key === "card")?.column?.distinct ?? rows;
}

function fleetsOf(drafts: Draft[]): Settings["fleets"] {
  const fleets = new Map<string, Settings["fleets"][number]>();
  const cards = drafts.filter(({ record }) => record === "rebuild");
  const others = drafts.filter(
    ({ record }) => record !== "rebuild" && record !== "stock" && record !== "part" && record !== "bearing",
  );
  for (const { fleets: own, firstDay } of [...cards, ...others]) {
    for (const fleet of own) {
      const known: Settings["fleets"][number] = fleets.get(fleet.name) ?? fleet;
      const days = [known.recordsBegin, firstDay].filter((day) => day !== undefined).sort();
      fleets.set(fleet.name, days[0] === undefined ? known : { ...known, recordsBegin: days[0] });
    }
  }
  return fleets.size > 0 ? [...fleets.values()] : drafts.flatMap(({ fleets: own }) => own).slice(0, 1);
}

/** Edges between bands of end play and its window, as common practice has them, in a unit. */
export function commonEndPlay(unit: LengthUnit): { bands: number[]; low: number; high: number } {
  const round = (thou: number) => Number(inUnit(thou, "thou", unit).toPrecision(2));
  return { bands: [2, 3.5, 5.5, 7].map(round), low: 2, high: 7 };
}
