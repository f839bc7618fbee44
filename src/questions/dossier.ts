import type { DuckDBConnection, JS } from "@duckdb/node-api";
import { rows } from "../store/rows.ts";
import { runStep } from "../store/run-step.ts";
import type { Clock } from "./answer.ts";
import type { Dossier, DossierBuild, FittedPart, FoundPart, NeighbourBuild } from "./dossier-types.ts";
import { leftOutWords } from "./left-out-words.ts";
import { framelife, shellWord } from "./rows-command.ts";

/** Builds of one frame or position, and of its neighbours, that a page has room for: the latest. */
export const MOST_BUILDS = 200;

export type DossierQuestion = {
  fleet: string;
  kind: Dossier["kind"];
  ids: string[];
  clock: Clock;
  /** The workspace's folder where the command named one. */
  folder?: string;
};

type Raw = Record<string, JS>;

/**
 * Everything on record of some frames, or positions, of a fleet: each build with what went in and what was found, and their neighbours.
 * The connection holds `installation` and `known_unit`; nothing is written to the store.
 * @returns one each, in the order asked for
 */
export async function askDossiers(connection: DuckDBConnection, question: DossierQuestion): Promise<Dossier[]> {
  const { fleet, kind, ids } = question;
  if (ids.length === 0) return [];
  await runStep(connection, "58_dossier", { fleet, kind, ids: JSON.stringify(ids), most: MOST_BUILDS });
  const builds = grouped(await rows(connection, BUILDS), "asked");
  const parts = grouped(await rows(connection, PARTS), "id");
  return ids.map((id) => {
    const found = builds.get(id) ?? [];
    const own = found.filter(({ own }) => own === true);
    const others = found.filter(({ own }) => own !== true);
    return {
      kind,
      id,
      models: distinct(own, "model"),
      sites: distinct(own, "site"),
      builds: own.map((row) => buildOf(row, parts.get(String(row["id"])) ?? [], question)),
      buildsInAll: Number(own[0]?.["in_all"] ?? 0),
      neighbours: others.map((row) => neighbourOf(row, question)),
      neighboursInAll: Number(others[0]?.["in_all"] ?? 0),
    };
  });
}

const BUILDS = `
  with name as (select file_id, concat_ws('#', path, sheet) as name from landing.file),
  ended as (select id, card as end_card, failed_slot from dossier_card where at_end)
  select b.* replace (start_on::varchar as start_on, stop_on::varchar as stop_on), end_card, failed_slot,
         concat_ws(':', s.name, start_row) as start_source, concat_ws(':', e.name, stop_row) as stop_source
  from dossier_build b left join ended using (id)
  left join name s on s.file_id = start_file left join name e on e.file_id = stop_file
  order by asked, own, start_on nulls first, stop_on, unit, build_number`;

const PARTS = "from dossier_part order by id, at_end, slot";

function buildOf(row: Raw, parts: Raw[], question: DossierQuestion): DossierBuild {
  return {
    ...neighbourOf(row, question),
    number: Number(row["build_number"]),
    startMarked: markOf(textOf(row["start_marked"])),
    endPlay: numberOf(row["end_play"]),
    lube: textOf(row["lube"]),
    sealArrangement: textOf(row["seal_arrangement"]),
    card: textOf(row["card"]),
    endCard: textOf(row["end_card"]),
    failedSlot: textOf(row["failed_slot"]),
    fitted: parts.filter(({ at_end, fitted }) => at_end === false && fitted === true).map(fittedPart),
    found: parts.filter(({ at_end }) => at_end === true).flatMap(foundPart),
    sources: [...new Set([textOf(row["start_source"]), textOf(row["stop_source"])])].filter(
      (place) => !!place,
    ) as string[],
  };
}

function markOf(mark: string | null): DossierBuild["startMarked"] {
  return mark === "built" || mark === "removed" || mark === "last_rebuilt" ? mark : null;
}

function fittedPart({ slot, part, batch }: Raw): FittedPart {
  return { slot: String(slot), part: textOf(part), batch: textOf(batch) };
}

function foundPart({ slot, condition, damage_mode: mode }: Raw): FoundPart[] {
  const found = { slot: String(slot), condition: textOf(condition), damageMode: textOf(mode) };
  return found.condition === null && found.damageMode === null ? [] : [found];
}

function neighbourOf(row: Raw, { clock, folder }: DossierQuestion): NeighbourBuild {
  const reason = textOf(row[`left_out_${clock}`]);
  const ran = numberOf(row[clock]);
  return {
    unit: String(row["unit"]),
    position: textOf(row["position"]),
    start: textOf(row["start_on"]),
    stop: textOf(row["stop_on"]),
    ends: String(row["ends"]) as NeighbourBuild["ends"],
    assumedRunning: row["assumed_running"] === true,
    retired: row["retired"] === true,
    ran,
    noRun: ran === null ? (reason === null ? "not known" : leftOutWords(reason)) : null,
    trace: `${framelife("trace", folder)} ${shellWord(String(row["id"]))}`,
  };
}

function grouped(found: Raw[], key: string): Map<string, Raw[]> {
  const groups = new Map<string, Raw[]>();
  for (const row of found) {
    const own = groups.get(String(row[key]));
    if (own === undefined) groups.set(String(row[key]), [row]);
    else own.push(row);
  }
  return groups;
}

function distinct(found: Raw[], column: string): string[] {
  return [...new Set(found.map((row) => textOf(row[column])))].filter((value) => value !== null);
}

function textOf(value: JS | undefined): string | null {
  return value === null || value === undefined || value === "" ? null : String(value);
}

function numberOf(value: JS | undefined): number | null {
  return value === null || value === undefined ? null : Number(value);
}
