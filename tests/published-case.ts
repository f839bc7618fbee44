import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { Tolerance } from "./agree.ts";

/** A figure of a published case. */
export type PublishedValue = { name: string; value: number | string | null; how: string; tolerance: Tolerance };

type CaseFile = {
  case: string;
  values: PublishedValue[];
  tables: { name: string; how: string; tolerance: Tolerance; columns: string[]; rows: (number | null)[][] }[];
};

/** Data and expected figures of a case in `tests/reference/published`; the README there says whence they come. */
export class PublishedCase {
  readonly name: string;
  /** Path of the data, one header row and comma-separated. */
  readonly data: string;
  readonly #file: CaseFile;
  readonly #columns: Map<string, string[]>;

  constructor(name: string) {
    const path = (ending: string) => new URL(`./reference/published/${name}.${ending}`, import.meta.url);
    this.name = name;
    this.data = fileURLToPath(path("csv"));
    this.#file = JSON.parse(readFileSync(path("json"), "utf8"));
    const [header = "", ...lines] = readFileSync(path("csv"), "utf8").trim().split("\n");
    const rows = lines.map((line) => line.trim().split(","));
    this.#columns = new Map(header.split(",").map((column, at) => [column, rows.map((row) => row[at] ?? "")]));
  }

  /** A column of the data as text. */
  texts(column: string): string[] {
    const found = this.#columns.get(column);
    if (found === undefined) throw new RangeError(`Case ${this.name} has no column "${column}"`);
    return found;
  }

  /** A column of the data as numbers, a blank as `blank`. */
  numbers(column: string, blank = Number.NaN): Float64Array {
    return Float64Array.from(this.texts(column), (text) => (text === "" ? blank : Number(text)));
  }

  /** A column of 0 and 1. */
  flags(column: string): Uint8Array {
    return Uint8Array.from(this.numbers(column));
  }

  /** All figures whose name begins so, by the rest of their name. */
  values(prefix: string): (PublishedValue & { rest: string })[] {
    return this.#file.values.flatMap((value) =>
      value.name.startsWith(prefix) ? [{ ...value, rest: value.name.slice(prefix.length) }] : [],
    );
  }

  /** One figure and its tolerance. */
  value(name: string): { value: number; tolerance: Tolerance } {
    const found = this.#file.values.find((value) => value.name === name);
    if (typeof found?.value !== "number") throw new RangeError(`Case ${this.name} has no number "${name}"`);
    return { value: found.value, tolerance: found.tolerance };
  }

  /** The rows of a table by column name, and the tolerance of its figures. */
  table(name: string): { rows: Record<string, number | null>[]; tolerance: Tolerance } {
    const found = this.#file.tables.find((table) => table.name === name);
    if (found === undefined) throw new RangeError(`Case ${this.name} has no table "${name}"`);
    const rows = found.rows.map((row) =>
      Object.fromEntries(found.columns.map((column, at) => [column, row[at] ?? null])),
    );
    return { rows, tolerance: found.tolerance };
  }
}
