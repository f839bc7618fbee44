import { writtenDate, yearOf } from "../day.ts";
import { type CardRow, type Column, cell, type ExportFormat, word } from "../export-format.ts";

const SLOTS: Record<string, string> = {
  drive_end_bearings: "DE brgs",
  pump_end_bearing: "PE brg",
  drive_end_seals: "DE seals",
  pump_end_seals: "PE seals",
  shaft_sleeve: "Sleeve",
};
const FAILED_AT: Record<string, string> = {
  drive_end_bearings: "drive end brgs gone",
  pump_end_bearing: "pump end brg gone",
  drive_end_seals: "leaking drive end",
  pump_end_seals: "leaking pump end",
  shaft_sleeve: "sleeve cut",
};
const REASONS = {
  failure: "failed in service",
  planned: "hours up",
  opportunity: "station outage",
  modification: "change to oil",
  unknown: "?",
};
const CONDITIONS = { failed: "scrap", worn: "worn", serviceable: "good", not_inspected: "not looked at" };
const MODES = {
  surface_fatigue: "surface pitting",
  subsurface_fatigue: "spalled",
  abrasive_wear: "dull, lapped",
  adhesive_wear: "smeared",
  moisture_corrosion: "rust",
  false_brinelling: "standing marks",
  indentation: "dented",
  not_classifiable: "can't tell",
  lip_wear: "lip worn flat",
  lip_hardening: "lip hard",
  lip_cut: "lip cut",
  sleeve_groove: "grooved",
};

/** From this year on the owner's system writes dates the international way. */
const ISO_FROM_YEAR = 2022;
const date = (day: number) => writtenDate(day, yearOf(day) >= ISO_FROM_YEAR ? "y-m-d" : "d/m/y");
const halfThou = (thou: number) => String(Math.round(thou * 2) / 2);
const hours = (value: number) => value.toFixed(1);

const slotColumns = (slot: string): Column<CardRow>[] => {
  const name = SLOTS[slot] ?? slot;
  const of = ({ card }: CardRow) => card.slots.get(slot);
  return [
    {
      header: `${name} found`,
      field: `${slot}.condition`,
      text: (row) => word(CONDITIONS, of(row)?.condition ?? null),
    },
    { header: `${name} damage`, field: `${slot}.damage_mode`, text: (row) => word(MODES, of(row)?.mode ?? null) },
    {
      header: `${name} new`,
      field: `${slot}.fitted`,
      text: (row) => cell(of(row)?.fitted ?? null, (yes) => (yes ? "Y" : "N")),
    },
    { header: `${name} part`, field: `${slot}.part`, text: (row) => of(row)?.part ?? "" },
    ...(slot.includes("seal")
      ? [{ header: `${name} batch`, field: `${slot}.batch`, text: (row: CardRow) => of(row)?.batch ?? "" }]
      : []),
  ];
};

const cardNumber = (number: number) => `C${String(number).padStart(5, "0")}`;

const cards = (slots: string[]): Column<CardRow>[] => [
  { header: "Card", field: "card", text: ({ card }) => cardNumber(card.number) },
  { header: "Frame no", field: "unit", text: ({ card }) => card.unit },
  { header: "Frame type", field: "model", text: ({ card }) => card.model },
  { header: "Came from pump", field: "from", text: ({ card }) => card.fromPosition },
  { header: "Pulled", field: "removed_on", text: ({ card }) => date(card.removedOn) },
  { header: "Into shop", field: "received_on", text: ({ card }) => date(card.receivedOn) },
  { header: "Built", field: "built_on", text: ({ card }) => cell(card.builtOn, date) },
  { header: "Back in service", field: "installed_on", text: ({ card }) => cell(card.installedOn, date) },
  { header: "Meter when pulled", field: "hours_removed", text: ({ card }) => hours(card.hoursRemoved) },
  { header: "Meter when put back", field: "hours_installed", text: ({ card }) => cell(card.hoursInstalled, hours) },
  { header: "Went to station", field: "site", text: ({ card }) => card.toSite ?? "" },
  { header: "Went to pump", field: "position", text: ({ card }) => card.toPosition ?? "" },
  {
    header: "Why pulled",
    field: "reason",
    text: ({ card }) =>
      card.failedSlot === null ? word(REASONS, card.reason) : (FAILED_AT[card.failedSlot] ?? REASONS.failure),
  },
  { header: "Lube", field: "lube", text: ({ card }) => word({ oil_bath: "oil", grease: "grease" }, card.lube) },
  { header: "Seal fit", field: "seal_arrangement", text: ({ card }) => card.sealArrangement ?? "" },
  { header: "End play set (thou)", field: "end_play", text: ({ card }) => cell(card.endPlayThou, halfThou) },
  { header: "End play found (thou)", field: "end_play_found", text: ({ card }) => halfThou(card.endPlayFoundThou) },
  {
    header: "End play without shims (thou)",
    field: "end_play_unshimmed",
    text: ({ card }) => cell(card.unshimmedThou, halfThou),
  },
  { header: "Shims (thou)", field: "shims", text: ({ card }) => cell(card.shimsThou, String) },
  { header: "Ring temp (F)", field: "ring_temperature", text: ({ card }) => cell(card.ringTemperatureF, String) },
  { header: "Speed (rpm)", field: "speed", text: ({ card }) => String(card.speedRpm) },
  { header: "Fitter", field: "fitter", text: ({ card }) => card.fitter ?? "" },
  ...slots.flatMap(slotColumns),
];

/** One row a card; thou and degrees F; day first in the older files, international dates in the newer ones. */
export const wideThou: ExportFormat = {
  encoding: "utf8",
  byteOrderMark: false,
  delimiter: ",",
  newline: "\n",
  long: false,
  yearsAFile: 3,
  cardNumber,
  cards,
  cardFile: (first, last) => `job-cards-${first}-${last}.csv`,
  reissuedFile: "reissued-cards.csv",
  closing: (rows) => ["Total cards", String(rows)],
  units: {
    file: "frame-register.csv",
    columns: [
      { header: "Frame no", field: "unit", text: ({ unit }) => unit },
      { header: "Frame type", field: "model", text: ({ model }) => model },
      { header: "First station on record", field: "site", text: ({ site }) => site },
      { header: "First pump on record", field: "position", text: ({ position }) => position },
      { header: "Speed (rpm)", field: "speed", text: ({ speedRpm }) => String(speedRpm) },
      { header: "First in service", field: "commissioned_on", text: ({ commissionedOn }) => date(commissionedOn) },
      {
        header: "Last rebuild before cards",
        field: "last_rebuilt_on",
        text: ({ lastRebuiltOn }) => cell(lastRebuiltOn, date),
      },
      { header: "Seen in service on", field: "listed_on", text: ({ listedOn }) => cell(listedOn, date) },
    ],
  },
  readings: {
    file: "meter-rounds.csv",
    columns: [
      { header: "Frame no", field: "unit", text: ({ unit }) => unit },
      { header: "Read on", field: "read_on", text: ({ readOn }) => date(readOn) },
      { header: "Hours", field: "hours", text: (reading) => hours(reading.hours) },
      {
        header: "New meter",
        field: "meter_changed",
        text: ({ oldMeterHours }) => (oldMeterHours === null ? "" : "yes"),
      },
      {
        header: "Old meter at change",
        field: "old_meter_hours",
        text: ({ oldMeterHours }) => cell(oldMeterHours, hours),
      },
    ],
  },
  retirements: {
    file: "frames-out-of-use.csv",
    columns: [
      { header: "Frame no", field: "unit", text: ({ unit }) => unit },
      { header: "Out of use on", field: "retired_on", text: ({ retiredOn }) => date(retiredOn) },
      { header: "What became of it", field: "cause", text: ({ cause }) => cause },
    ],
  },
  slips: {
    dates: ["31/02/2019", "not known", "00/06/2018", "12/13/2017"],
    words: ["see back of card", "as last time"],
    foreign: (text) => (Number(text) * 0.0254).toFixed(3),
    own: (text) => `${(Number(text) * 0.0254).toFixed(2)} mm`,
  },
};
