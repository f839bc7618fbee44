import { readFileSync } from "node:fs";
import { stringify } from "yaml";
import { packageFile } from "../../src/workspace/package-file.ts";
import { bookParts, rowXml } from "../ingest/export/workbook-bytes.ts";

/** A workspace that reads an export of each format; the first three say what the cards say, of other frames. */
export const CONFIGURATION = `title: Quillhaven bearing-frame shop
fleets: [{ name: saltmere, title: Saltmere }, { name: ostrel, title: Ostrel, records_begin: 2016-01-01 }, { name: vennick, title: Vennick }]
slots:
  drive_end_bearings: { title: Drive-end bearings, quantity: 2, kind: bearing }
  pump_end_bearing: { title: Pump-end bearing, quantity: 1, kind: bearing }
  drive_end_seals: { title: Drive-end seals, quantity: 1, kind: seal }
  pump_end_seals: { title: Pump-end seals, quantity: 1, kind: seal }
  shaft_sleeve: { title: Shaft sleeve, quantity: 1, kind: other }
windows: { end_play: { low: 2, high: 7, unit: thou, source: invented } }
quarantine_limit: 0.5
rules: { same_day_card: warn, unit_mixup: fix }
pipelines: [export]
`;

const HEADER = [
  "Card",
  "Frame",
  "Pump",
  "Out",
  "Built",
  "In",
  "Meter",
  "Why",
  "End play",
  "DE new",
  "DE found",
  "Mode",
];

const row = (number: number): (string | number)[] => [
  `J${number}`,
  `F${number % 4}`,
  `P${number % 3}`,
  `${10 + (number % 18)}/0${1 + (number % 9)}/20${16 + Math.floor(number / 4)}`,
  `${12 + (number % 16)}/0${1 + (number % 9)}/20${16 + Math.floor(number / 4)}`,
  "",
  500 + 1700 * Math.floor(number / 4),
  ["failed", "hours up", "?"][number % 3]!,
  number % 5 === 0 ? "0.12 mm" : 2 + (number % 6),
  "Y",
  number % 3 === 0 ? "bad" : "good",
  number % 3 === 0 ? "worn lip" : "",
];

const ROWS = Array.from({ length: 14 }, (_, number) => row(number));

const FIELDS = `
fields:
  fleet: { value: saltmere }
  card: { column: Card, required: true, tidy: [upper, strip_leading_zeros] }
  unit: { column: [Frame, Unit], tidy: [upper] }
  position: { column: Pump }
  removed_on: { column: Out, dates: ["%d/%m/%Y", "%Y-%m-%d", serial-1900] }
  built_on: { column: Built, dates: ["%d/%m/%Y", "%Y-%m-%d", serial-1900] }
  installed_on: { column: In, dates: ["%d %b %Y"] }
  hours_removed: { column: Meter, unit: h, low: 0, high: 100000 }
  reason: { column: Why, words: { failed: failure, hours up: planned, "?": ~ } }
  end_play: { column: End play, unit: thou, low: 0.5, high: 20 }
slots:
  drive_end_bearings:
    fitted: { column: DE new, words: { Y: yes, N: no } }
    condition: { column: DE found, words: { bad: failed, good: serviceable } }
    damage_mode: { column: Mode, words: { worn lip: lip_wear } }
not_data: [{ column: Card, matches: "total.*" }]
`;

const pipelineOf = (file: string, more = "") =>
  `title: Job cards\nrecord: rebuild\nfiles: exports/${file}\n${more}${FIELDS}`;

const objects = () => ROWS.map((cells) => Object.fromEntries(cells.map((cell, at) => [HEADER[at]!, cell])));

/** An export of a format, as text or as the parts of a workbook, and the pipeline that reads it. */
export type SampleExport = { file: string; pipeline: string } & ({ text: string } | { parts: Record<string, string> });

export const SAMPLES: Record<"csv" | "semicolons" | "json" | "ndjson" | "xlsx", SampleExport> = {
  csv: {
    file: "cards.csv",
    pipeline: pipelineOf("cards.csv"),
    text: [HEADER, ...ROWS].map((cells) => cells.join(",")).join("\n"),
  },
  semicolons: {
    file: "karten.csv",
    pipeline: pipelineOf(
      "karten.csv",
      "delimiter: ';'\ndecimal_mark: ','\nthousands_mark: '.'\nencoding: windows-1252\nheader: 2\n",
    ),
    text: [
      "Karten;;;",
      ...[HEADER, ...ROWS].map((cells) => cells.map((cell) => `"${cell}"`).join(";")),
      "Total cards;14",
    ].join("\r\n"),
  },
  json: {
    file: "cards.json",
    pipeline: pipelineOf("cards.json", 'records: "data.cards"\n'),
    text: JSON.stringify({ made: "2024-01-01", data: { cards: objects() } }, null, 1),
  },
  ndjson: {
    file: "cards.ndjson",
    pipeline: pipelineOf("cards.ndjson"),
    text: objects()
      .map((one) => JSON.stringify(one))
      .join("\n"),
  },
  xlsx: {
    file: "cards.xlsx",
    pipeline: pipelineOf("cards.xlsx", "sheet: [Cards]\n"),
    parts: bookParts({
      sheets: [
        {
          name: "Cards",
          rows: [HEADER, ...ROWS].map((cells, at) => rowXml(at + 1, cells)).join(""),
          merged: ["A20:B21"],
        },
        { name: "Notes", rows: rowXml(1, ["a note"]) },
      ],
      formats: [14, "dd/mm/yyyy", "0.00"],
      strings: ["<t>one</t>", "<r><t>two</t></r>"],
    }),
  },
};

/** Pipelines of the package, which name most of what a pipeline can name, each with the beginning of an export that it reads. */
export const PACKAGED = [
  { name: "saltmere-cards", path: "exports/saltmere/job-cards-2016-2018.csv" },
  { name: "ostrel-cards", path: "exports/ostrel/karten-2016-2020.csv" },
  { name: "vennick-cards", path: "exports/vennick/shop-tickets-2016-to-2018.csv" },
  { name: "saltmere-rounds", path: "exports/saltmere/meter-rounds.csv" },
  { name: "ostrel-units", path: "exports/ostrel/rahmenliste.csv" },
  { name: "saltmere-retirements", path: "exports/saltmere/frames-out-of-use.csv" },
  { name: "quillhaven-parts", path: "exports/quillhaven/parts.csv" },
  { name: "quillhaven-stock", path: "exports/quillhaven/stock.csv" },
].map(({ name, path }) => ({
  path,
  pipeline: readFileSync(packageFile(`pipelines/${name}.yaml`), "utf8").replace(/exports\/[^\s,\]]+/g, path),
  // Bytes as they are: one of the exports is not UTF-8.
  text: readFileSync(packageFile(`sample-data/${path}`), "latin1")
    .split("\n")
    .slice(0, 25)
    .join("\n"),
}));

export const ALIASES = "fleet,unit,is,accept,because\nsaltmere,F0,F1,yes,\nsaltmere,F2,F3,no,not the same\n";
export const CORRECTIONS_CSV = "record,fleet,id,field,old,new,reason,by\nrebuild,saltmere,J3,end_play,5,4,misread,QC\n";
export const CORRECTIONS_YAML = stringify([
  {
    record: "rebuild",
    id: "J3",
    field: "drive_end_bearings.condition",
    old: "bad",
    new: "good",
    reason: "r",
    by: "QC",
  },
]);
