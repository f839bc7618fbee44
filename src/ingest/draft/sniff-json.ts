import { readFile, stat } from "node:fs/promises";
import { UserError } from "../../errors.ts";
import { columnPath } from "../export/json/column-path.ts";
import { decoded, type Encoding, type Sniffed } from "./sniff-text.ts";

/** Larger files aren't read whole to look at their outline. */
const MOST_BYTES = 64 * (1 << 20);

type Json = Record<string, unknown>;

/**
 * Where the records of a JSON file lie, and the list inside each of them where it has one of several objects; undefined where the file
 * is the list.
 * @throws UserError if there is no list of records
 */
export async function sniffRecords(
  path: string,
  shownPath: string,
  encoding: Encoding,
): Promise<Sniffed<string | undefined>> {
  if ((await stat(path)).size > MOST_BYTES)
    return { value: undefined, evidence: "taken as one list of records: too large to look at whole" };
  let root: unknown;
  try {
    root = JSON.parse(decoded(await readFile(path), encoding));
  } catch (error) {
    const text = error instanceof Error ? error.message : String(error);
    throw new UserError(`Cannot read ${shownPath} as JSON: ${text}; export it again`, 1, { cause: error });
  }
  const found = listIn(root, "");
  if (found === undefined) {
    throw new UserError(
      `Cannot draft a pipeline for ${shownPath}: it holds no list of records; export a list of objects`,
    );
  }
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

/** The longest list of objects, not inside another list. */
function listIn(value: unknown, path: string): { path: string; list: Json[] } | undefined {
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
