import { isoDate } from "../day.ts";
import { type CardRow, type Column, cell, type ExportFormat } from "../export-format.ts";

const hours = (value: number) => value.toFixed(1);
const thou = (value: number) => value.toFixed(1);

const slotColumns = (slot: string): Column<CardRow>[] => {
  const of = ({ card }: CardRow) => card.slots.get(slot);
  return [
    { header: `${slot} condition`, field: `${slot}.condition`, text: (row) => of(row)?.condition ?? "" },
    { header: `${slot} damage`, field: `${slot}.damage_mode`, text: (row) => of(row)?.mode ?? "" },
    {
      header: `${slot} fitted`,
      field: `${slot}.fitted`,
      text: (row) => cell(of(row)?.fitted ?? null, (yes) => (yes ? "yes" : "no")),
    },
    { header: `${slot} batch`, field: `${slot}.batch`, text: (row) => of(row)?.batch ?? "" },
  ];
};

const cardNumber = (number: number) => String(number);

const cards = (slots: string[]): Column<CardRow>[] => [
  { header: "card", field: "card", text: ({ card }) => cardNumber(card.number) },
  { header: "unit", field: "unit", text: ({ card }) => card.unit },
  { header: "model", field: "model", text: ({ card }) => card.model },
  { header: "site", field: "site", text: ({ card }) => card.toSite ?? "" },
  { header: "position", field: "position", text: ({ card }) => card.toPosition ?? "" },
  { header: "removed on", field: "removed_on", text: ({ card }) => isoDate(card.removedOn) },
  { header: "received on", field: "received_on", text: ({ card }) => isoDate(card.receivedOn) },
  { header: "built on", field: "built_on", text: ({ card }) => cell(card.builtOn, isoDate) },
  { header: "installed on", field: "installed_on", text: ({ card }) => cell(card.installedOn, isoDate) },
  { header: "hours removed", field: "hours_removed", text: ({ card }) => hours(card.hoursRemoved) },
  { header: "hours installed", field: "hours_installed", text: ({ card }) => cell(card.hoursInstalled, hours) },
  { header: "reason", field: "reason", text: ({ card }) => card.reason },
  { header: "failed slot", field: "failed_slot", text: ({ card }) => card.failedSlot ?? "" },
  { header: "lube", field: "lube", text: ({ card }) => card.lube ?? "" },
  { header: "end play thou", field: "end_play", text: ({ card }) => cell(card.endPlayThou, thou) },
  { header: "fitter", field: "fitter", text: ({ card }) => card.fitter ?? "" },
  ...slots.flatMap(slotColumns),
];

/** Our own words, complete and clean: one row a card, ISO dates, thou, hours. */
export const plain: ExportFormat = {
  encoding: "utf8",
  byteOrderMark: false,
  delimiter: ",",
  newline: "\n",
  long: false,
  yearsAFile: 0,
  cardNumber,
  cards,
  cardFile: () => "cards.csv",
  reissuedFile: "cards-corrected.csv",
  closing: null,
  units: {
    file: "units.csv",
    columns: [
      { header: "unit", field: "unit", text: ({ unit }) => unit },
      { header: "model", field: "model", text: ({ model }) => model },
      { header: "site", field: "site", text: ({ site }) => site },
      { header: "position", field: "position", text: ({ position }) => position },
      { header: "commissioned on", field: "commissioned_on", text: ({ commissionedOn }) => isoDate(commissionedOn) },
      {
        header: "last rebuilt on",
        field: "last_rebuilt_on",
        text: ({ lastRebuiltOn }) => cell(lastRebuiltOn, isoDate),
      },
      { header: "listed on", field: "listed_on", text: ({ listedOn }) => cell(listedOn, isoDate) },
    ],
  },
  readings: {
    file: "readings.csv",
    columns: [
      { header: "unit", field: "unit", text: ({ unit }) => unit },
      { header: "read on", field: "read_on", text: ({ readOn }) => isoDate(readOn) },
      { header: "hours", field: "hours", text: (reading) => hours(reading.hours) },
      {
        header: "meter changed",
        field: "meter_changed",
        text: ({ oldMeterHours }) => (oldMeterHours === null ? "no" : "yes"),
      },
      { header: "old meter hours", field: "old_meter_hours", text: ({ oldMeterHours }) => cell(oldMeterHours, hours) },
    ],
  },
  retirements: {
    file: "retirements.csv",
    columns: [
      { header: "unit", field: "unit", text: ({ unit }) => unit },
      { header: "retired on", field: "retired_on", text: ({ retiredOn }) => isoDate(retiredOn) },
      { header: "cause", field: "cause", text: ({ cause }) => cause },
    ],
  },
  slips: {
    dates: ["2019-02-31"],
    words: ["unclear"],
    foreign: (text) => String(Number(text) * 0.0254),
    own: (text) => `${text} thou`,
  },
};
