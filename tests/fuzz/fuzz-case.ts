import fc from "fast-check";
import { parse, stringify } from "yaml";
import { type Random, randomFor } from "../../src/simulate/random.ts";
import { zipBytes } from "../ingest/export/zip-bytes.ts";
import { mutatedBytes, mutatedText } from "./mutate.ts";
import { mutatedTree, type Tree } from "./mutated-tree.ts";
import { pipelineTexts } from "./pipeline-texts.ts";
import {
  ALIASES,
  CONFIGURATION,
  CORRECTIONS_CSV,
  CORRECTIONS_YAML,
  PACKAGED,
  SAMPLES,
  type SampleExport,
} from "./sample-files.ts";
import { conditions, type Outside, statements } from "./sql-texts.ts";

/** Files of a workspace to be read, or a question to one that is. */
export type FuzzCase = { kind: string } & (
  | { files: Record<string, string | Buffer>; afterwards: string[][] }
  | { ask: string[] }
);

const KINDS = {
  csv: 5,
  semicolons: 3,
  json: 4,
  "json values": 1,
  ndjson: 4,
  xlsx: 5,
  pipeline: 3,
  "pipeline made up": 6,
  "pipeline of the package": 2,
  configuration: 2,
  aliases: 1,
  "corrections.csv": 1,
  "corrections.yaml": 1,
  where: 6,
  query: 6,
};

const JSON_ROWS = fc.array(
  fc.dictionary(fc.constantFrom("Card", "Frame", "Out", "Meter", "Why", "", "__proto__"), fc.jsonValue()),
);

/** Words of pipelines and configurations, so that a change often leaves something that can be read. */
const WORDS = [
  ...`rebuild unit reading retirement stock part bearing csv tsv xlsx json ndjson parquet utf-16 latin-1 wide long measured none required: tidy: dates: unit: words: default:
low: high: value: compose: column: blank: header: records: sheet: measures: slots: not_data: mm in thou C F kN 0 1 -1 1.5 [] {} "" yes no true false null`.split(
    /\s+/,
  ),
  "card: { column: Card }",
  "compose: [unit, removed_on]",
  'matches: "(a+)+$"',
  'matches: "["',
  "format: parquet",
  "layout: long",
  "[3, 4]",
];

/** The case of this number. */
export function fuzzCase(seed: number, number: number, outside: Outside): FuzzCase {
  const random = randomFor(seed, "fuzz", number);
  const kind = random.weighted(KINDS);
  if (kind === "where" || kind === "query") return { kind, ask: asked(kind, random, outside) };
  const questions = [
    ["audit", "--json"],
    ["life", "--json"],
    ["ingest"],
    ["ingest", "--forget"],
    ["bench"],
    ["spares"],
  ];
  return { kind, files: filesOf(kind, random), afterwards: questions.filter(() => random.chance(0.25)) };
}

function oneOf<Value>(random: Random, values: fc.Arbitrary<Value>): Value {
  return fc.sample(values, { seed: random.integer(0, 2 ** 31 - 1), numRuns: 1 })[0]!;
}

function asked(kind: "where" | "query", random: Random, outside: Outside): string[] {
  if (kind === "query") return ["query", "--json", "--", oneOf(random, statements(outside))];
  const command = random.pick([["life"], ["intervals"], ["offenders"], ["compare", "end_play"]]);
  return [...command, "--json", `--where=${oneOf(random, conditions(outside))}`];
}

function filesOf(kind: string, random: Random): Record<string, string | Buffer> {
  const usual = withExport(SAMPLES.csv, exportBytes(SAMPLES.csv));
  switch (kind) {
    case "pipeline":
      return {
        ...withAny(random),
        "pipelines/export.yaml": mutatedYaml(random, random.pick(Object.values(SAMPLES)).pipeline),
      };
    case "pipeline made up":
      return {
        ...withAny(random),
        "pipelines/export.yaml": oneOf(
          random,
          pipelineTexts(Object.values(SAMPLES).map(({ file }) => `exports/${file}`)),
        ),
      };
    case "pipeline of the package": {
      const { path, pipeline, text } = random.pick(PACKAGED);
      const which = random.chance(0.5);
      return {
        "framelife.yaml": CONFIGURATION,
        "pipelines/export.yaml": which ? mutatedYaml(random, pipeline) : pipeline,
        [path]: Buffer.from(which ? text : mutatedText(random, text), "latin1"),
      };
    }
    case "configuration":
      return { ...usual, "framelife.yaml": mutatedYaml(random, CONFIGURATION) };
    case "aliases":
      return { ...usual, "aliases.csv": mutatedText(random, ALIASES) };
    case "corrections.csv":
      return { ...usual, "corrections.csv": mutatedText(random, CORRECTIONS_CSV) };
    case "corrections.yaml":
      return { ...usual, "corrections.yaml": mutatedText(random, CORRECTIONS_YAML) };
    case "json values":
      return withExport(SAMPLES.json, Buffer.from(JSON.stringify({ data: { cards: oneOf(random, JSON_ROWS) } })));
    default: {
      const sample = SAMPLES[kind as keyof typeof SAMPLES];
      return withExport(sample, spoiltExport(sample, random));
    }
  }
}

function withExport({ file, pipeline }: SampleExport, content: Buffer): Record<string, string | Buffer> {
  return { "framelife.yaml": CONFIGURATION, "pipelines/export.yaml": pipeline, [`exports/${file}`]: content };
}

/** All exports, as they should be: the pipeline decides which is read. */
function withAny(random: Random): Record<string, string | Buffer> {
  const all = Object.values(SAMPLES).map((sample) => [`exports/${sample.file}`, exportBytes(sample)] as const);
  return { "framelife.yaml": CONFIGURATION, ...Object.fromEntries(random.chance(0.5) ? all : all.toReversed()) };
}

function exportBytes(sample: SampleExport): Buffer {
  return "parts" in sample ? zipBytes(sample.parts) : Buffer.from(sample.text);
}

function mutatedYaml(random: Random, text: string): string {
  if (random.chance(0.3)) return mutatedText(random, text, WORDS);
  return stringify(mutatedTree(random, parse(text) as Tree, WORDS));
}

/** Text of JSON, the same with other values in it; of several lines, of one of them. */
function mutatedJson(random: Random, text: string, kind: "json" | "ndjson"): string {
  if (kind === "json") return JSON.stringify(mutatedTree(random, JSON.parse(text) as Tree));
  const lines = text.split("\n");
  const at = random.integer(0, lines.length - 1);
  return lines
    .map((line, nth) => (nth === at ? JSON.stringify(mutatedTree(random, JSON.parse(line) as Tree)) : line))
    .join("\n");
}

function spoiltExport(sample: SampleExport, random: Random): Buffer {
  if (random.chance(0.3)) return mutatedBytes(random, exportBytes(sample));
  if ("text" in sample) return spoiltText(sample, random);
  const part = random.pick(Object.keys(sample.parts));
  const parts = { ...sample.parts, [part]: mutatedText(random, sample.parts[part]!) };
  return random.chance(0.05) ? zipBytes(parts, { [part]: random.integer(0, 2 ** 31) }) : zipBytes(parts);
}

function spoiltText({ file, text }: { file: string; text: string }, random: Random): Buffer {
  const format = file.slice(file.lastIndexOf(".") + 1);
  if ((format === "json" || format === "ndjson") && random.chance(0.7)) {
    return Buffer.from(mutatedJson(random, text, format));
  }
  const spoilt = mutatedText(random, text);
  return random.chance(0.1) ? Buffer.from(`\ufeff${spoilt}`, "utf16le") : Buffer.from(spoilt);
}
