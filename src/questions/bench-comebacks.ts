import type { DuckDBConnection } from "@duckdb/node-api";
import { incidenceBy } from "../stats/competing/incidence-by.ts";
import { columns } from "../store/columns.ts";
import type { BenchComebacks, BenchShare, Comeback } from "./bench-answer.ts";
import { type BenchRows, sideOf } from "./bench-rows.ts";
import type { FoundPart } from "./dossier-types.ts";
import { framelife, shellWord } from "./rows-command.ts";

/** Comebacks that an answer lists: those that came back last. */
const MOST_LISTED = 100;

/** Failure first; what comes back planned, or with nothing said of why, competes. */
const CAUSES = ["failure", "planned", "unknown"];

export type ComebacksAsked = { limit: number; level: number };

/** Builds whose time in service is known. */
export function followedOf({ left_out: leftOut }: BenchRows, chosen: Int32Array): Int32Array {
  return chosen.filter((row) => leftOut.codes[row]! < 0);
}

/** Share of builds that come back for failure inside the limit; planned returns compete, short follow-up counts as far as it goes. */
export function comebackShare(rows: BenchRows, followed: Int32Array, asked: ComebacksAsked): BenchShare {
  return shareOf(rows, followed, asked, CAUSES);
}

function shareOf(
  rows: BenchRows,
  followed: Int32Array,
  { limit, level }: ComebacksAsked,
  causes: string[],
): BenchShare {
  const codes = rows.ends.words.map((word) => causes.indexOf(word));
  const cause = Int32Array.from(followed, (row) => codes[rows.ends.codes[row]!] ?? -1);
  const lives = {
    time: Float64Array.from(followed, (row) => rows.days[row]!),
    failed: Uint8Array.from(cause, (code) => Number(code >= 0)),
    cause,
  };
  const counts = { count: countInside(lives, limit), of: followed.length };
  const found = incidenceBy(lives, { cause: 0, causes: causes.length, age: limit, level });
  if (found.estimate !== null) return { ...found, ...counts };
  const reason =
    followed.length === 0 ? "no build's time in service is known" : `no build has been followed for ${limit} days`;
  return { estimate: null, low: null, high: null, reason, ...counts };
}

function countInside({ time, cause }: { time: Float64Array; cause: Int32Array }, limit: number): number {
  let inside = 0;
  for (let life = 0; life < time.length; life++) if (cause[life] === 0 && time[life]! <= limit) inside++;
  return inside;
}

/** The comebacks of some builds, with what was found at each. */
export async function comebacksOf(
  connection: DuckDBConnection,
  rows: BenchRows,
  chosen: Int32Array,
  asked: ComebacksAsked & { folder: string | undefined },
): Promise<BenchComebacks> {
  const followed = followedOf(rows, chosen);
  const inside = (row: number, end: string) =>
    rows.ends.words[rows.ends.codes[row]!] === end && rows.days[row]! <= asked.limit;
  const unknown = followed.filter((row) => inside(row, "unknown")).length;
  const back = followed.filter((row) => inside(row, "failure"));
  const asFailures = {
    ...rows,
    ends: { ...rows.ends, words: rows.ends.words.map((word) => (word === "unknown" ? "failure" : word)) },
  };
  return {
    limit: asked.limit,
    share: comebackShare(rows, followed, asked),
    planned: followed.filter((row) => inside(row, "planned")).length,
    stillFollowed: followed.filter((row) => inside(row, "end") && rows.days[row]! < asked.limit).length,
    unknown,
    unknownAsFailure: unknown === 0 ? null : shareOf(asFailures, followed, asked, ["failure", "planned"]),
    list: await listed(connection, rows, back, asked.folder),
  };
}

/** The latest by the day they came back, each with what its next card says; `back` are rows. */
async function listed(
  connection: DuckDBConnection,
  rows: BenchRows,
  back: Int32Array,
  folder: string | undefined,
): Promise<Comeback[]> {
  if (back.length === 0) return [];
  const keys = Array.from(back, (row) => ({ fleet: rows.fleet.words[rows.fleet.codes[row]!]!, card: rows.card[row]! }));
  const told = await columns(
    connection,
    `with asked as (select unnest(from_json($keys, '[{"fleet": "VARCHAR", "card": "VARCHAR"}]'), recursive := true)),
     latest as (
       select b.* from asked join built b using (fleet, card) order by stop_on desc, place desc limit ${MOST_LISTED}
     ),
     back as (
       select b.fleet, b.card, b.place, b.id, coalesce(b.position, '') as position, b.start_on, b.stop_on, coalesce(r.failed_slot, '') as failed_slot, r.card as end_card
       from latest b join records.rebuild r on r.file_id = b.stop_file and r.row = b.stop_row
     ),
     found as (
       select f.fleet, f.card as end_card, slot, any_value(condition order by row) as condition, any_value(damage_mode order by row) as mode
       from (select distinct fleet, end_card from back) b join records.fitting f on f.fleet = b.fleet and f.card = b.end_card
       where condition is not null or damage_mode is not null group by all
     )
     select b.fleet, b.card, any_value(id) as id, any_value(position) as position, any_value(start_on)::varchar as start_on,
            any_value(stop_on)::varchar as stop_on, any_value(failed_slot) as failed_slot,
            coalesce(to_json(list({slot: slot, condition: condition, damageMode: mode} order by slot) filter (slot is not null)), '[]')::varchar as found
     from back b left join found using (fleet, end_card) group by b.fleet, b.card
     order by any_value(b.stop_on) desc, any_value(b.place) desc`,
    {
      ...{ fleet: "text", card: "text", id: "text", position: "text" },
      ...{ start_on: "text", stop_on: "text", failed_slot: "text", found: "text" },
    },
    { keys: JSON.stringify(keys) },
  );
  const rowOf = new Map(keys.map(({ fleet, card }, nth) => [`${fleet}/${card}`, back[nth]!]));
  return told.id.map((id, at): Comeback => {
    const card = told.card[at]!;
    const row = rowOf.get(`${told.fleet[at]}/${card}`)!;
    return {
      unit: rows.unit[row]!,
      position: told.position[at] || null,
      card,
      builtOn: rows.on[row] || null,
      installedOn: told.start_on[at]!,
      backOn: told.stop_on[at]!,
      days: Math.floor(rows.days[row]!),
      endPlay: Number.isNaN(rows.value[row]!) ? null : rows.value[row]!,
      outside: !Number.isNaN(rows.value[row]!) && sideOf(rows, row) !== null,
      failedSlot: told.failed_slot[at] || null,
      found: JSON.parse(told.found[at]!) as FoundPart[],
      trace: `${framelife("trace", folder)} ${shellWord(id)}`,
    };
  });
}
