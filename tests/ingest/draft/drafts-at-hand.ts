import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { type Draft, fieldName, questionsOf } from "../../../src/ingest/draft/draft.ts";
import type { KindRequest } from "../../../src/ingest/draft/draft-exports.ts";
import { withExports } from "../../../src/ingest/draft/map-file.ts";
import { writeDraft } from "../../../src/ingest/draft/write-draft.ts";
import { Pipeline } from "../../../src/workspace/pipeline.ts";
import { parseYaml } from "../../../src/workspace/yaml-file.ts";

/** Drafts of files that are written for it into a folder that goes again. */
export async function draftsOf(
  files: Record<string, string | Buffer>,
  more: Partial<KindRequest> = {},
): Promise<Draft[]> {
  const folder = mkdtempSync(join(tmpdir(), "framelife-drafts-"));
  try {
    for (const [name, content] of Object.entries(files)) {
      mkdirSync(dirname(join(folder, name)), { recursive: true });
      writeFileSync(join(folder, name), content);
    }
    return await withExports(async (exports) => {
      await exports.add(
        Object.keys(files).map((name) => ({ path: join(folder, name), shownPath: name, name: `exports/${name}` })),
      );
      const drafts: Draft[] = [];
      for (const kind of exports.kinds) drafts.push(await exports.draft(kind, { ...REQUEST, ...more }));
      return drafts;
    });
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const REQUEST: KindRequest = {
  name: "cards",
  fleet: { known: [], otherwise: { name: "saltmere", title: "Saltmere" }, isPlain: true },
  answers: {},
};

/** The draft of one file. */
export async function draftOf(name: string, content: string | Buffer, more: Partial<KindRequest> = {}): Promise<Draft> {
  const [draft] = await draftsOf({ [name]: content }, more);
  if (draft === undefined) throw new RangeError(`Cannot draft ${name}: no table in it`);
  return draft;
}

/** Which column each field takes: its header, or its place. */
export function columnsOf(draft: Draft): Record<string, string | number> {
  const pairs = draft.fields.flatMap((field): [string, string | number][] => {
    const column = field.entries.find(([key]) => key === "column")?.[1];
    return typeof column === "string" || typeof column === "number" ? [[fieldName(field), column]] : [];
  });
  return Object.fromEntries(pairs);
}

/** What a field's words are taken for; undefined where that could not be told. */
export function wordsOf(draft: Draft, name: string): Record<string, string | null | undefined> {
  const field = draft.fields.find((each) => fieldName(each) === name);
  return Object.fromEntries((field?.words ?? []).map(({ text, target }) => [text, target]));
}

/** An entry of a field. */
export function entryOf(draft: Draft, name: string, key: string): unknown {
  const field = draft.fields.find((each) => fieldName(each) === name);
  return field?.entries.find(([entry]) => entry === key)?.[1];
}

/** The draft read back as the pipeline that it is. */
export function pipelineOf(draft: Draft): Pipeline {
  return parseYaml(writeDraft(draft), "draft.yaml", Pipeline);
}

export function questionTexts(draft: Draft): string[] {
  return questionsOf(draft).map(({ text }) => text);
}

/** A day some days after 2020-01-01. */
export function dayAfter(days: number): Date {
  return new Date(Date.UTC(2020, 0, 1 + days));
}

const two = (number: number) => String(number).padStart(2, "0");

/** A day as exports write it. */
export const written = {
  iso: (day: Date) => day.toISOString().slice(0, 10),
  points: (day: Date) => `${two(day.getUTCDate())}.${two(day.getUTCMonth() + 1)}.${day.getUTCFullYear()}`,
  slashes: (day: Date) => `${two(day.getUTCMonth() + 1)}/${two(day.getUTCDate())}/${day.getUTCFullYear()}`,
  named: (day: Date) =>
    `${two(day.getUTCDate())}-${"Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split(" ")[day.getUTCMonth()]}-${day.getUTCFullYear() % 100}`,
};

/** Takes one of a list by turns. */
export function turn<T>(list: T[], index: number): T {
  return list[index % list.length]!;
}
