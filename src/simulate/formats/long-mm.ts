import { writtenDate } from "../day.ts";
import { type CardRow, type Column, cell, type ExportFormat, word } from "../export-format.ts";

const MM_PER_THOU = 0.0254; // exact: NIST SP 811, appendix B
const SLOTS: Record<string, string> = {
  drive_end_bearings: "Lager Antriebsseite",
  pump_end_bearing: "Lager Pumpenseite",
  drive_end_seals: "Wellendichtringe Antriebsseite",
  pump_end_seals: "Wellendichtringe Pumpenseite",
  shaft_sleeve: "Wellenhülse",
};
const REASONS = {
  failure: "Ausfall",
  planned: "Zeitplan",
  opportunity: "Winterstillstand",
  modification: "Umbau auf Öl",
  unknown: "ohne Angabe",
};
const CONDITIONS = {
  failed: "defekt",
  worn: "verschlissen",
  serviceable: "in Ordnung",
  not_inspected: "nicht geprüft",
};
const MODES = {
  surface_fatigue: "Grübchen an der Oberfläche",
  subsurface_fatigue: "Schälung",
  abrasive_wear: "Abrieb",
  adhesive_wear: "Anschmierung",
  moisture_corrosion: "Rost",
  false_brinelling: "Stillstandsmarken",
  indentation: "Eindrücke",
  not_classifiable: "nicht zuzuordnen",
  lip_wear: "Lippe abgenutzt",
  lip_hardening: "Lippe verhärtet",
  lip_cut: "Lippe eingeschnitten",
  sleeve_groove: "Laufrille",
};
const CAUSES = { scrapped: "verschrottet", sold: "verkauft", lost: "verschollen" };

const date = (day: number) => writtenDate(day, "d.m.y");
const comma = (value: number, digits: number) => value.toFixed(digits).replace(".", ",");
const mm = (thou: number) => comma(thou * MM_PER_THOU, 2);
const hours = (value: number) => comma(value, 1);
const slotName = (slot: string | null) => (slot === null ? "" : (SLOTS[slot] ?? slot));
const yesNo = (yes: boolean | null) => cell(yes, (said) => (said ? "ja" : "nein"));
const of = ({ card, slot }: CardRow) => card.slots.get(slot);

const cardNumber = (number: number) => `OS-${String(number).padStart(4, "0")}`;

const cards = (): Column<CardRow>[] => [
  { header: "Karte", field: "card", text: ({ card }) => cardNumber(card.number) },
  { header: "Rahmen", field: "unit", text: ({ card }) => card.unit },
  { header: "Bauart", field: "model", text: ({ card }) => card.model },
  { header: "Platz vorher", field: "from", text: ({ card }) => card.fromPosition },
  { header: "Ausgebaut", field: "removed_on", text: ({ card }) => date(card.removedOn) },
  { header: "Eingang", field: "received_on", text: ({ card }) => date(card.receivedOn) },
  { header: "Fertig", field: "built_on", text: ({ card }) => cell(card.builtOn, date) },
  { header: "Eingebaut", field: "installed_on", text: ({ card }) => cell(card.installedOn, date) },
  { header: "Zählerstand Ausbau", field: "hours_removed", text: ({ card }) => hours(card.hoursRemoved) },
  { header: "Zählerstand Einbau", field: "hours_installed", text: ({ card }) => cell(card.hoursInstalled, hours) },
  { header: "Bereich", field: "site", text: ({ card }) => card.toSite ?? "" },
  { header: "Platz", field: "position", text: ({ card }) => card.toPosition ?? "" },
  { header: "Grund", field: "reason", text: ({ card }) => word(REASONS, card.reason) },
  { header: "Ausgefallen", field: "failed_slot", text: ({ card }) => slotName(card.failedSlot) },
  { header: "Schmierung", field: "lube", text: ({ card }) => word({ oil_bath: "Ölbad", grease: "Fett" }, card.lube) },
  { header: "Axialspiel [mm]", field: "end_play", text: ({ card }) => cell(card.endPlayThou, mm) },
  { header: "Tiefe Außenring [mm]", field: "race_depth", text: ({ card }) => cell(card.raceDepthThou, mm) },
  { header: "Höhe Zentrierbund [mm]", field: "spigot_height", text: ({ card }) => cell(card.spigotHeightThou, mm) },
  { header: "Beilagen [mm]", field: "shims", text: ({ card }) => cell(card.shimsThou, mm) },
  {
    header: "Ringtemperatur [°C]",
    field: "ring_temperature",
    text: ({ card }) => cell(card.ringTemperatureF, (f) => String(Math.round((f - 32) / 1.8))),
  },
  { header: "Monteur", field: "fitter", text: ({ card }) => card.fitter ?? "" },
  { header: "Stelle", field: "slot", text: ({ slot }) => slotName(slot) },
  { header: "Befund", field: "condition", text: (row) => word(CONDITIONS, of(row)?.condition ?? null) },
  { header: "Schadensbild", field: "damage_mode", text: (row) => word(MODES, of(row)?.mode ?? null) },
  { header: "Erneuert", field: "fitted", text: (row) => yesNo(of(row)?.fitted ?? null) },
  { header: "Teil", field: "part", text: (row) => of(row)?.part ?? "" },
  { header: "Charge", field: "batch", text: (row) => of(row)?.batch ?? "" },
];

/** One row per card and slot; millimetres with a decimal comma, degrees C, semicolons, an eight-bit encoding. */
export const longMm: ExportFormat = {
  encoding: "latin1",
  byteOrderMark: false,
  delimiter: ";",
  newline: "\r\n",
  long: true,
  yearsAFile: 5,
  cardNumber,
  cards,
  cardFile: (first, last) => `karten-${first}-${last}.csv`,
  reissuedFile: "karten-berichtigt.csv",
  closing: (rows) => ["Summe", String(rows)],
  units: {
    file: "rahmenliste.csv",
    columns: [
      { header: "Rahmen", field: "unit", text: ({ unit }) => unit },
      { header: "Bauart", field: "model", text: ({ model }) => model },
      { header: "Erster Bereich", field: "site", text: ({ site }) => site },
      { header: "Erster Platz", field: "position", text: ({ position }) => position },
      { header: "Drehzahl [1/min]", field: "speed", text: ({ speedRpm }) => String(speedRpm) },
      { header: "In Betrieb seit", field: "commissioned_on", text: ({ commissionedOn }) => date(commissionedOn) },
      {
        header: "Letzte Überholung davor",
        field: "last_rebuilt_on",
        text: ({ lastRebuiltOn }) => cell(lastRebuiltOn, date),
      },
      { header: "In Betrieb gesehen am", field: "listed_on", text: ({ listedOn }) => cell(listedOn, date) },
    ],
  },
  readings: {
    file: "zaehlerstaende.csv",
    columns: [
      { header: "Rahmen", field: "unit", text: ({ unit }) => unit },
      { header: "Abgelesen", field: "read_on", text: ({ readOn }) => date(readOn) },
      { header: "Stunden", field: "hours", text: (reading) => hours(reading.hours) },
      { header: "Zählerwechsel", field: "meter_changed", text: ({ oldMeterHours }) => yesNo(oldMeterHours !== null) },
      { header: "Alter Zähler", field: "old_meter_hours", text: ({ oldMeterHours }) => cell(oldMeterHours, hours) },
    ],
  },
  retirements: {
    file: "rahmen-ausgemustert.csv",
    columns: [
      { header: "Rahmen", field: "unit", text: ({ unit }) => unit },
      { header: "Ausgemustert", field: "retired_on", text: ({ retiredOn }) => date(retiredOn) },
      { header: "Verbleib", field: "cause", text: ({ cause }) => word(CAUSES, cause) },
    ],
  },
  slips: {
    dates: ["30.02.2018", "unbekannt", "00.00.2020"],
    words: ["siehe Anhang", "wie besprochen"],
    foreign: (text) => comma(Number(text.replace(",", ".")) / MM_PER_THOU, 1),
    own: (text) => `${comma(Number(text.replace(",", ".")) / MM_PER_THOU, 1)} thou`,
  },
};
