import { writtenDate } from "../day.ts";
import { type CardRow, type Column, cell, type ExportFormat, word } from "../export-format.ts";

const SLOTS: Record<string, string> = {
  drive_end_bearings: "Thrust pair",
  pump_end_bearing: "Line bearing",
  drive_end_seals: "Outer seals",
  pump_end_seals: "Inner seals",
  shaft_sleeve: "Shaft sleeve",
};
const REASONS = {
  failure: "Broke down on hire",
  planned: "Scheduled",
  opportunity: "Off hire, done while here",
  modification: "Converted to oil",
  unknown: "N/R",
};
const CONDITIONS = { failed: "Bad", worn: "Tired", serviceable: "OK", not_inspected: "Not checked" };
const MODES = {
  surface_fatigue: "Frosted race",
  subsurface_fatigue: "Flaked race",
  abrasive_wear: "Grit wear",
  adhesive_wear: "Skid marks",
  moisture_corrosion: "Corroded",
  false_brinelling: "Transport marks",
  indentation: "Denting",
  not_classifiable: "Destroyed",
  lip_wear: "Worn lip",
  lip_hardening: "Cooked lip",
  lip_cut: "Cut lip",
  sleeve_groove: "Grooving",
};

const date = (day: number) => writtenDate(day, "m/d/y");
const inch = (thou: number) => (Math.round(thou) / 1000).toFixed(3);
const hours = (value: number) => value.toFixed(1);

const slotColumns = (slot: string): Column<CardRow>[] => {
  const name = SLOTS[slot] ?? slot;
  const of = ({ card }: CardRow) => card.slots.get(slot);
  return [
    {
      header: `${name}: state`,
      field: `${slot}.condition`,
      text: (row) => word(CONDITIONS, of(row)?.condition ?? null),
    },
    { header: `${name}: damage`, field: `${slot}.damage_mode`, text: (row) => word(MODES, of(row)?.mode ?? null) },
    {
      header: `${name}: replaced`,
      field: `${slot}.fitted`,
      text: (row) => cell(of(row)?.fitted ?? null, (yes) => (yes ? "X" : "-")),
    },
  ];
};

const cardNumber = (number: number) => `T-${String(number).padStart(4, "0")}`;

const cards = (slots: string[]): Column<CardRow>[] => [
  { header: "Ticket", field: "card", text: ({ card }) => cardNumber(card.number) },
  { header: "Serial", field: "unit", text: ({ card }) => card.unit },
  { header: "Frame model", field: "model", text: ({ card }) => card.model },
  { header: "Returned from", field: "from", text: ({ card }) => card.fromPosition },
  { header: "Returned", field: "removed_on", text: ({ card }) => date(card.removedOn) },
  { header: "Work started", field: "received_on", text: ({ card }) => date(card.receivedOn) },
  { header: "Work finished", field: "built_on", text: ({ card }) => cell(card.builtOn, date) },
  { header: "Handed out", field: "installed_on", text: ({ card }) => cell(card.installedOn, date) },
  { header: "Hours at return", field: "hours_removed", text: ({ card }) => hours(card.hoursRemoved) },
  { header: "Hours at hand-out", field: "hours_installed", text: ({ card }) => cell(card.hoursInstalled, hours) },
  { header: "Depot", field: "site", text: ({ card }) => card.toSite ?? "" },
  { header: "Out to", field: "position", text: ({ card }) => card.toPosition ?? "" },
  { header: "Came back because", field: "reason", text: ({ card }) => word(REASONS, card.reason) },
  { header: "Lubrication", field: "lube", text: ({ card }) => word({ oil_bath: "Oil", grease: "Grease" }, card.lube) },
  { header: "Shaft float, in", field: "end_play", text: ({ card }) => cell(card.endPlayThou, inch) },
  { header: "Shim pack, in", field: "shims", text: ({ card }) => cell(card.shimsThou, inch) },
  { header: "Heated to, F", field: "ring_temperature", text: ({ card }) => cell(card.ringTemperatureF, String) },
  { header: "Shaft speed", field: "speed", text: ({ card }) => String(card.speedRpm) },
  { header: "Tech", field: "fitter", text: ({ card }) => card.fitter ?? "" },
  ...slots.flatMap(slotColumns),
];

/** One row a card; inches, month first, a byte order mark; neither a list of units nor meter rounds. */
export const wideInch: ExportFormat = {
  encoding: "utf8",
  byteOrderMark: true,
  delimiter: ",",
  newline: "\r\n",
  long: false,
  yearsAFile: 3,
  cardNumber,
  cards,
  cardFile: (first, last) => `shop-tickets-${first}-to-${last}.csv`,
  reissuedFile: "tickets-amended.csv",
  closing: (rows) => ["End of list", `${rows} tickets`],
  units: null,
  readings: null,
  retirements: null,
  slips: {
    dates: ["02/30/2017", "13/13/2020", "TBC"],
    words: ["Customer says", "Ask yard"],
    foreign: (text) => (Number(text) * 1000).toFixed(0),
    own: (text) => `${(Number(text) * 25.4).toFixed(2)} mm`,
  },
};
