import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../../store/columns.ts";
import { sourceColumn } from "../export/csv-source.ts";
import type { ColumnProfile, Word } from "./column-profile.ts";
import type { Question } from "./opinion.ts";
import { columnName, counted } from "./shown.ts";

/** The files in the order in which they are to be read, and what to ask of it. */
export type Overlap = { files: string[]; questions: Question[] };

/** An amendment has at most one record in so many. */
const SMALL = 4;

/**
 * A record that stands in several files counts as the last of them has it. A small file of which most records stand in others, and
 * otherwise there, amends them, and goes last; one that others repeat as it stands is an older export, and stays.
 * @param key - what tells records apart, in the table `cells`
 * @param width - columns of that table
 * @param scant - the first words of rows that are totals, no records
 */
export async function overlapOf(
  connection: DuckDBConnection,
  key: ColumnProfile,
  { files, width, scant }: { files: string[]; width: number; scant: Word[] },
): Promise<Overlap> {
  const name = sourceColumn(key.place - 1);
  const row = Array.from({ length: width }, (_, index) => sourceColumn(index)).join(", ");
  const found = await columns(
    connection,
    `with version as (
       select file, ${name} as key, bit_xor(hash(${row})) as content from cells
       where ${name} is not null and coalesce(lower(c0), '') not in (select unnest(from_json($scant, '["VARCHAR"]'))) group by all
     ),
     compared as (
       select *, count(*) over record as files, min(content) over record <> max(content) over record as differs
       from version window record as (partition by key)
     )
     select file, count(*)::integer as keys, count(*) filter (files > 1 and differs)::integer as changed,
            (select count(distinct key)::integer from compared where files > 1) as twice
     from compared group by file order by file`,
    { file: "integer", keys: "integer", changed: "integer", twice: "integer" },
    { scant: JSON.stringify(scant.map(({ text }) => text)) },
  );
  const twice = found.twice[0] ?? 0;
  if (twice === 0) return { files, questions: [] };
  const all = found.keys.reduce((sum, keys) => sum + keys, 0);
  const amending = [...found.file].flatMap((file, index) => {
    const [keys, changed] = [found.keys[index]!, found.changed[index]!];
    return changed * 2 > keys && keys * SMALL <= all ? [files[file]!] : [];
  });
  const others = files.filter((file) => !amending.includes(file));
  const told =
    amending.length === 0 || others.length === 0
      ? ""
      : `; most of ${amending.map((file) => `"${file}"`).join(", ")} stands otherwise in the others, so it is taken to amend them and put last`;
  const text = `${counted(twice, "record")} by ${columnName(key.header, key.place)} in more than one file; the last file in the list counts: put the newest last${told}`;
  return {
    files: others.length === 0 ? files : [...others, ...amending],
    questions: [{ id: "files.order", text, options: [], cells: twice }],
  };
}
