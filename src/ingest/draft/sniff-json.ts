import { createReadStream } from "node:fs";
import { readFile, stat } from "node:fs/promises";
import { UserError } from "../../errors.ts";
import { columnPath } from "../export/json/column-path.ts";
import { jsonOfStart } from "./json-start.ts";
import { decoded, type Encoding, type Sniffed } from "./sniff-text.ts";

/** Larger files aren't read whole to look at their outline. */
const MOST_BYTES = 64 * (1 << 20);

type Json = Record<string, unknown>;
type Found = { path: string; list: Json[] };

/**
 * Where the records of a JSON file lie, and the list inside each of them where it has one of several objects; undefined where the file
 * is the list.
 * @param most - bytes beyond which only the start of the file is looked at, a quarter of them
 * @throws UserError if there is no list of records
 */
export async function sniffRecords(
  path: string,
  shownPath: string,
  encoding: Encoding,
  most = MOST_BYTES,
): Promise<Sniffed<string | undefined>> {
  const isLarge = (await stat(path)).size > most;
  const looked = isLarge ? most / 4 : most;
  const root = isLarge
    ? jsonOfStart(decoded(await startOf(path, looked), encoding))
    : wholeJson(decoded(await readFile(path), encoding), shownPath);
  const found = (isLarge ? goingOn(root, "") : undefined) ?? listIn(root, "");
  if (found === undefined) {
    const what = isLarge
      ? `its first ${inMegabytes(looked)} hold no list of records, and the rest was not looked at; write the pipeline by hand after "framelife init", with records: for the path to the list, or export the list alone`
      : "it holds no list of records; export a list of objects";
    throw new UserError(`Cannot draft a pipeline for ${shownPath}: ${what}`);
  }
  const { value, evidence } = pathOf(found);
  return isLarge
    ? { value, evidence: `${evidence}, by the first ${inMegabytes(looked)} of the file alone` }
    : { value, evidence };
}

/** The list inside each record of a file whose lines are records, by its first lines; undefined where they have none. */
export function sniffLines(start: string): Sniffed<string | undefined> {
  const lines = start.split("\n");
  const whole = lines.length > 1 ? lines.slice(0, -1) : lines; // the last is cut where the start ends
  const { value, evidence } = pathOf({ path: "", list: whole.flatMap(jsonLine).filter(isObject) });
  return { value, evidence: value === undefined ? "each line is a record" : `each line is a record; ${evidence}` };
}

function jsonLine(line: string): unknown[] {
  try {
    return [JSON.parse(line)];
  } catch {
    return []; // said when it is read
  }
}

function wholeJson(text: string, shownPath: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    const words = error instanceof Error ? error.message : String(error);
    throw new UserError(`Cannot read ${shownPath} as JSON: ${words}; export it again`, 1, { cause: error });
  }
}

async function startOf(path: string, bytes: number): Promise<Buffer> {
  const chunks: Buffer[] = [];
  for await (const chunk of createReadStream(path, { end: bytes - 1 })) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks);
}

function inMegabytes(bytes: number): string {
  return `${Number((bytes / (1 << 20)).toPrecision(2)).toFixed(bytes < 1 << 20 ? 3 : 0)} MB`;
}

function pathOf(found: Found): Sniffed<string | undefined> {
  const inner = innerList(found.list);
  const outer = found.path === "" ? "" : found.path;
  if (inner !== undefined)
    return { value: `${outer}[].${inner}`.replace(/^\[\]\./, "[]."), evidence: `each record holds a list, ${inner}` };
  return {
    value: outer === "" ? undefined : outer,
    evidence: outer === "" ? "the file is a list of records" : `the longest list of objects is ${outer}`,
  };
}

function isObject(value: unknown): value is Json {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** The list of objects that the end of a file's start lies in: what is longer than the start is what the file is for. */
function goingOn(value: unknown, path: string): Found | undefined {
  if (!isObject(value)) return listIn(value, path);
  const last = Object.entries(value).at(-1);
  return last === undefined ? undefined : goingOn(last[1], columnPath(path, last[0]));
}

/** The longest list of objects, not inside another list. */
function listIn(value: unknown, path: string): Found | undefined {
  if (Array.isArray(value)) {
    const list = value.filter(isObject);
    return list.length > 0 && list.length === value.length ? { path, list } : undefined;
  }
  if (!isObject(value)) return undefined;
  const found = Object.entries(value).flatMap(([key, inside]) => listIn(inside, columnPath(path, key)) ?? []);
  return found.sort((a, b) => b.list.length - a.list.length)[0];
}

/** A key whose value is a list of objects, several in most records. */
function innerList(records: Json[]): string | undefined {
  const some = records.slice(0, 500);
  const counts = new Map<string, number>();
  for (const record of some) {
    for (const [key, value] of Object.entries(record)) {
      if (Array.isArray(value) && value.length > 1 && value.every(isObject))
        counts.set(key, (counts.get(key) ?? 0) + 1);
    }
  }
  const best = [...counts].sort((a, b) => b[1] - a[1])[0];
  return best !== undefined && best[1] * 2 >= some.length ? columnPath("", best[0]) : undefined;
}
