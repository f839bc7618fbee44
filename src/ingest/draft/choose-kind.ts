import { basename } from "node:path";
import type { RecordKind } from "../mapping/canonical-fields.ts";
import { CARD_DATES, requiredOf } from "../mapping/canonical-fields.ts";
import type { TableProfile } from "./column-profile.ts";
import { headerScore, headerTokens } from "./header-words.ts";
import { type DateRanks, type Layout, type Matched, matchColumns } from "./match-columns.ts";
import { tokensOf } from "./tokens.ts";
import { knownShare } from "./vocabulary.ts";

const KINDS: [RecordKind, Layout][] = [
  ["rebuild", "wide"],
  ["rebuild", "long"],
  ["rebuild", "measured"],
  ["unit", "wide"],
  ["reading", "wide"],
  ["retirement", "wide"],
  ["stock", "wide"],
  ["part", "wide"],
  ["bearing", "wide"],
];

/** What a table may be, best first; those that lack what makes a record of their kind come last. The name of its file speaks too. */
export function rankKinds(table: TableProfile, ranks: DateRanks, file: string, record?: RecordKind): Matched[] {
  const named = kindNamed(file);
  return KINDS.filter(([kind]) => record === undefined || kind === record)
    .map(([kind, layout]) => judged(matchColumns(table, kind, layout, ranks), table))
    .map((matched) => (matched.record === named ? { ...matched, score: matched.score + BY_NAME } : matched))
    .sort((a, b) => b.score - a.score);
}

const BY_NAME = 8;

/** Words of file names, as beginnings; English, German, French and Spanish. Common practice, no source. */
const IN_NAMES: [RecordKind, RegExp][] = [
  [
    "retirement",
    /^(scrap|retire|dispos|decommission|withdrawn|ausgemuster|ausmuster|verschrott|stillgeleg|abgang|abgaeng|reforme|baja|desguace)/,
  ],
  ["reading", /^(meters|readings|rounds|hourmeters|zaehlerst|ablesung|releve|lecturas|horometros)/],
];

/** The kind that words of a file's name tell. */
function kindNamed(file: string): RecordKind | undefined {
  const words = tokensOf(basename(file));
  return IN_NAMES.find(([, pattern]) => words.some((word) => pattern.test(word)))?.[0];
}

/** The number field of a card that a word of a list of measured values names. */
export function measuredField(text: string): string | undefined {
  const tokens = headerTokens(text);
  const fields = [
    "end_play",
    "end_play_found",
    "shims",
    "race_depth",
    "spigot_height",
    "end_play_unshimmed",
    "ring_temperature",
    "speed",
    "hours_removed",
    "hours_installed",
  ];
  const scored = fields.map((field) => ({ field, score: headerScore("rebuild", field, tokens) }));
  const best = scored.reduce((most, each) => (each.score > most.score ? each : most), { field: "", score: 0 });
  return best.score >= 2.4 ? best.field : undefined;
}

const MISSING = 5;

function judged(matched: Matched, table: TableProfile): Matched {
  return { ...matched, score: matched.score - penalty(matched, table) };
}

function penalty(matched: Matched, table: TableProfile): number {
  const { record, layout, fields } = matched;
  const lacks = (key: string) => !fields.has(key);
  const required = requiredOf(matched).filter((key) => key !== "fleet" && key !== "card" && lacks(key));
  let sum = MISSING * required.length;
  if (record !== "rebuild") return sum + ownPenalty(matched);
  if (lacks("card")) sum += layout === "measured" ? MISSING : 1.5;
  if (layout === "measured") return sum + measuredPenalty(matched, table);
  if (CARD_DATES.every(lacks)) sum += MISSING;
  if (layout === "long") sum += lacks("slot") || lacksEvidence(matched) ? 2 * MISSING : 0;
  return sum;
}

/** A long card tells per slot how it was found, or whether it was renewed. */
function lacksEvidence({ fields }: Matched): boolean {
  return !fields.has("condition") && !fields.has("fitted") && !fields.has("damage_mode") && !fields.has("part");
}

function measuredPenalty({ fields }: Matched, table: TableProfile): number {
  const measure = fields.get("measure")?.column;
  if (measure === undefined) return MISSING;
  const share = knownShare(measure.words, (text) => measuredField(text) !== undefined);
  const hasValue = valueColumn(table, fields) !== undefined;
  return share < 0.25 || !hasValue ? 2 * MISSING : -4 * share;
}

/** A list says of its things what only a list of that kind says. */
function ownPenalty({ record, fields }: Matched): number {
  const own: Partial<Record<RecordKind, string[]>> = {
    unit: ["commissioned_on", "listed_on", "last_rebuilt_on", "model"],
    part: ["price", "lead_time", "slot", "minimum_order", "pack_size"],
    bearing: ["bore", "outside_diameter", "dynamic_rating", "static_rating"],
  };
  const signs = own[record];
  return signs === undefined || signs.some((key) => fields.has(key)) ? 0 : MISSING;
}

const VALUE = [
  "value",
  "valeur",
  "valor",
  "reading",
  "result",
  "wert",
  "messwert",
  "istwert",
  "actual",
  "measured",
  "ergebnis",
];

/** The column of the values in a list of measured ones: of numbers, by its header, else the only one. */
export function valueColumn(table: TableProfile, fields: Matched["fields"]) {
  const taken = new Set([...fields.values()].map(({ column }) => column));
  const numeric = table.columns.filter(
    (column) => !taken.has(column) && column.filled > 0 && column.numbers.count > 0.6 * column.filled,
  );
  return (
    numeric.find(({ header }) => headerTokens(header).whole.some((token) => VALUE.includes(token))) ??
    (numeric.length === 1 ? numeric[0] : undefined)
  );
}
