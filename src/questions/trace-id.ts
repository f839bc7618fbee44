import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import { columns } from "../store/columns.ts";

/** A source row by the store's number of its file. */
export type Place = { fileId: number; row: number };

/** What an id means. */
export type Target =
  | { kind: (typeof KINDS)[number]; id: string }
  | { kind: "row"; id: string; places: Place[]; field: string | null }
  | { kind: "column"; id: string; files: number[]; field: string };

const KINDS = ["card", "unit", "position", "part", "life", "installation"] as const;
type Named = { kind: (typeof KINDS)[number]; id: string };

/**
 * What a person means by an id. `derive` makes the tables `life` and `installation`, which is done only where they are needed.
 * @throws UserError if it names nothing, with the nearest that there is, or several things, with their ids
 */
export async function findTarget(
  connection: DuckDBConnection,
  typed: string,
  derive: () => Promise<boolean>,
): Promise<Target> {
  const id = typed.trim();
  const source = await sourceTarget(connection, id);
  if (source !== undefined) return source;
  const { kind, name } = split(id);
  for (const compared of ["as typed", "any case"] as const) {
    const found = await namedBy(connection, { kind, name }, compared, derive);
    if (found.length === 1) return found[0]!;
    if (found.length > 1) throw ambiguous(id, found);
  }
  const aside = await asideRows(connection, name);
  if (aside.length === 1) return { kind: "row", id: aside[0]!.id, places: [aside[0]!.place], field: null };
  if (aside.length > 1)
    throw severalIds(
      id,
      aside.map((row) => row.id),
    );
  throw await unknown(connection, { id, name }, name.includes("/") && (await derive()));
}

/** "card:saltmere/7" says which of several things of one name is meant. */
function split(id: string): { kind: Named["kind"] | null; name: string } {
  const kind = KINDS.find((one) => id.startsWith(`${one}:`)) ?? null;
  return { kind, name: kind === null ? id : id.slice(kind.length + 1) };
}

/** A row of a file ("cards.csv:17", "book.xlsx#Sheet:17"), a value of it ("cards.csv:17#end_play"), or a column ("cards.csv#removed_on"). */
async function sourceTarget(connection: DuckDBConnection, id: string): Promise<Target | undefined> {
  const found = await columns(
    connection,
    `select file_id, name, substr($id, length(name) + 1) as rest from source_name where starts_with($id, name)
     union all
     select file_id, path, substr($id, length(path) + 1) from source_name where sheet is not null and starts_with($id, path || ':')
     order by file_id`,
    { file_id: "integer", name: "text", rest: "text" },
    { id },
  );
  const meant = found.rest.flatMap((rest, index) => {
    const [whole, row, field] = /^(?::(\d+))?(?:#(.+))?$/s.exec(rest) ?? [];
    return whole === undefined ? [] : [{ fileId: found.file_id[index]!, name: found.name[index]!, row, field }];
  });
  const [first] = meant;
  if (first === undefined) return undefined;
  if (first.row === undefined) {
    if (first.field === undefined) throw await wholeFile(connection, first.name, first.fileId);
    return { kind: "column", id, files: meant.map(({ fileId }) => fileId), field: first.field };
  }
  const row = Number(first.row);
  await refuseAmbiguousSheet(
    connection,
    id,
    meant.map(({ fileId }) => fileId),
    first.row,
  );
  const places = meant.map(({ fileId }) => ({ fileId, row }));
  await refuseNoRow(connection, id, first.fileId, row);
  return { kind: "row", id, places, field: first.field ?? null };
}

/** "book.xlsx:17" will do where one sheet of the book was read. */
async function refuseAmbiguousSheet(
  connection: DuckDBConnection,
  id: string,
  files: number[],
  row: string,
): Promise<void> {
  const { name } = await columns(
    connection,
    "select distinct name from source_name where list_contains($files::integer[], file_id) order by name",
    { name: "text" },
    { files: JSON.stringify(files) },
  );
  if (name.length > 1)
    throw severalIds(
      id,
      name.map((one) => `${one}:${row}`),
    );
}

async function refuseNoRow(connection: DuckDBConnection, id: string, fileId: number, row: number): Promise<void> {
  const { last, known } = await columns(
    connection,
    `select coalesce(max(row), 0)::integer as last, count(*) filter (row = $row)::integer as known
     from (select row from records.standing where file_id = $file_id union all select row from landing.set_aside where file_id = $file_id)`,
    { last: "integer", known: "integer" },
    { file_id: fileId, row },
  );
  if (known[0]! > 0) return;
  throw new UserError(
    `Cannot trace "${id}": the file has no such row of data; its rows go up to ${last[0]}, its header is none of them`,
  );
}

async function wholeFile(connection: DuckDBConnection, name: string, fileId: number): Promise<UserError> {
  const { first } = await columns(
    connection,
    `select coalesce(min(row), 2)::integer as first from records.standing where file_id = $file_id`,
    { first: "integer" },
    { file_id: fileId },
  );
  return new UserError(`Cannot trace "${name}": it is a whole file; name a row of it, for example ${name}:${first[0]}`);
}

/**
 * Cards and units of this name, lives and installations; positions and parts only where none of these has it, or the kind says so: a frame is often
 * called as the place where it runs.
 */
async function namedBy(
  connection: DuckDBConnection,
  { kind, name }: { kind: Named["kind"] | null; name: string },
  compared: "as typed" | "any case",
  derive: () => Promise<boolean>,
): Promise<Named[]> {
  const same = (column: string) => (compared === "as typed" ? `${column} = $name` : `lower(${column}) = lower($name)`);
  const recorded = await columns(
    connection,
    `select distinct place, kind, id from traceable
     where (${same("called")} or ${same("short")}) and kind = coalesce($kind, kind) order by place, kind, id`,
    { place: "integer", kind: "text", id: "text" },
    { name, kind },
  );
  const found = recorded.kind.map((kind, index) => ({ kind, id: recorded.id[index]! }) as Named);
  const isDerived = kind === null || kind === "life" || kind === "installation";
  const lives = isDerived && name.includes("/") && (await derive()) ? await derivedBy(connection, name, same) : [];
  const first = [...found.filter((_, index) => recorded.place[index] === 1), ...lives];
  return (first.length > 0 ? first : found).filter((one) => kind === null || one.kind === kind);
}

async function derivedBy(
  connection: DuckDBConnection,
  name: string,
  same: (column: string) => string,
): Promise<Named[]> {
  const derived = await columns(
    connection,
    `select 'life' as kind, id from life where ${same("id")} or ${same("concat_ws('/', unit, slot, build_number)")}
     union all
     select 'installation', id from installation where ${same("id")} or ${same("concat_ws('/', unit, build_number)")}
     order by kind, id`,
    { kind: "text", id: "text" },
    { name },
  );
  return derived.kind.map((kind, index) => ({ kind, id: derived.id[index]! }) as Named);
}

/** Rows set aside of which a cell is the name: a card in quarantine is in no record. */
async function asideRows(connection: DuckDBConnection, name: string): Promise<{ id: string; place: Place }[]> {
  const found = await columns(
    connection,
    `select file_id, row, concat_ws(':', name, row) as id from landing.set_aside join source_name using (file_id)
     where outcome = 'quarantined' and contains(raw, to_json($name)::varchar) order by rank, row limit 20`,
    { file_id: "integer", row: "integer", id: "text" },
    { name },
  );
  return found.id.map((id, index) => ({ id, place: { fileId: found.file_id[index]!, row: found.row[index]! } }));
}

/** Things of one id are told apart by their kind. */
function ambiguous(id: string, found: Named[]): UserError {
  const clash = new Set(found.map((one) => one.id)).size < found.length;
  return severalIds(
    id,
    found.map((one) => (clash ? `${one.kind}:${one.id}` : one.id)),
  );
}

function severalIds(id: string, ids: string[]): UserError {
  return new UserError(`Cannot trace "${id}": it can mean ${ids.join(", ")}; give one of these`);
}

/** So many are named. */
const NEAREST = 5;

async function unknown(
  connection: DuckDBConnection,
  { id, name }: { id: string; name: string },
  derived: boolean,
): Promise<UserError> {
  const lives = ["life", "installation"].map(
    (table) => `union all select id, levenshtein(lower(id), lower($name)) from ${table}`,
  );
  const near = await columns(
    connection,
    `select id from (select id, min(far) as far from (
       select called as id, least(levenshtein(lower(short), lower($name)), levenshtein(lower(called), lower($name))) as far from traceable
       union all
       select name || ':2', levenshtein(lower(name), lower(regexp_replace($name, ':[0-9]*(#.*)?$', ''))) from source_name
       ${derived ? lives.join("\n") : ""}
     ) group by id) where far <= greatest(2, length($name) // 4) order by far, id limit ${NEAREST}`,
    { id: "text" },
    { name },
  );
  const nearest = near.id.length === 0 ? "" : `, the nearest are ${near.id.join(", ")}`;
  return new UserError(
    `Cannot trace "${id}": no card, unit, position, part, life, build, row or finding is called so${nearest}; give the number of a card, unit, position or part, FLEET/UNIT/SLOT/BUILD, or FILE:ROW`,
  );
}
