import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

type Tolerance = { abs: number; rel: number };
type Published = {
  source: string;
  values: { name: string; value: number; tolerance: Tolerance }[];
  tables: { name: string; columns: string[]; rows: (number | null)[][]; tolerance: Tolerance }[];
};

/** A published case of `tests/reference/published`: the path of its data, and its expected values with their tolerances. */
export function publishedCase(name: string) {
  const path = (ending: string) => fileURLToPath(new URL(`published/${name}.${ending}`, import.meta.url));
  const { source, values, tables } = JSON.parse(readFileSync(path("json"), "utf8")) as Published;
  return {
    data: path("csv"),
    source,
    value(wanted: string) {
      const found = values.find((value) => value.name === wanted);
      if (!found) throw new Error(`Case ${name} has no value ${wanted}`);
      return found;
    },
    table(wanted: string) {
      const found = tables.find((table) => table.name === wanted);
      if (!found) throw new Error(`Case ${name} has no table ${wanted}`);
      return found;
    },
  };
}
