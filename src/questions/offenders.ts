import type { DuckDBConnection } from "@duckdb/node-api";
import { fitCrossedEffects } from "../stats/offenders/crossed-effects.ts";
import { placeAdjusted } from "../stats/offenders/place-adjusted.ts";
import { fitTwoGroups } from "../stats/offenders/two-groups.ts";
import { sumOfBases } from "./basis.ts";
import { outcomeWarnings } from "./conditions.ts";
import { type CountedFleet, countedFleet } from "./counted-fleet.ts";
import { countedTable } from "./counted-table.ts";
import { addDamage } from "./damage-profile.ts";
import { fleetExposures } from "./fleet-exposure.ts";
import { groupedBy } from "./grouping.ts";
import { byCertainty, ENOUGH_FOR_OWN_SPREAD, type Judged, judgedFleet } from "./judged-fleet.ts";
import type { Entity, OffendersAnswer, UnitOrPosition } from "./offenders-answer.ts";
import { offendersSentence } from "./offenders-sentence.ts";
import { offendersWarnings } from "./offenders-warnings.ts";
import { rowsCommand } from "./rows-command.ts";
import { type OffendersQuestion, type Source, sourceWarnings } from "./scope.ts";
import { unitOrPositionOf } from "./unit-or-position.ts";
import { unitOf } from "./wording.ts";

/**
 * What comes back more often than chance explains, and whether the frame or the place is to blame.
 * The connection holds `exposed`, or `counted_rows` of a plain table of counts; nothing is written to the store.
 */
export async function askOffenders(
  connection: DuckDBConnection,
  question: OffendersQuestion,
  source: Source,
  from: "exposed" | "counts" = "exposed",
): Promise<OffendersAnswer> {
  const every = judgedFleets(await countedFleets(connection, question, source, from), question);
  const found = every.filter(({ counted }) => question.fleet === undefined || counted.by["fleet"] === question.fleet);
  return answerOf(connection, found, question, source);
}

/** The same of each fleet of a workspace apart, by its name, judged once. */
export async function askOffendersByFleet(
  connection: DuckDBConnection,
  question: Omit<OffendersQuestion, "fleet">,
  source: Source,
): Promise<Map<string, OffendersAnswer>> {
  const every = judgedFleets(await countedFleets(connection, question, source, "exposed"), question);
  const answers = new Map<string, OffendersAnswer>();
  const fleets = source.kind === "workspace" ? source.configuration.fleets : [];
  for (const { name: fleet } of fleets) {
    const found = every.filter(({ counted }) => counted.by["fleet"] === fleet);
    answers.set(fleet, await answerOf(connection, found, { ...question, fleet }, source));
  }
  return answers;
}

async function answerOf(
  connection: DuckDBConnection,
  found: Found[],
  question: OffendersQuestion,
  source: Source,
): Promise<OffendersAnswer> {
  const fleets = found.map(({ counted }) => counted);
  const entities = found.flatMap(({ judged }) => judged.entities).toSorted(byCertainty);
  if (source.kind === "workspace") await addDamage(connection, entities, question);
  const clock = source.kind === "workspace" ? question.clock : null;
  const answer: OffendersAnswer = {
    schema: 1,
    command: "offenders",
    answer: "",
    asOf: source.kind === "workspace" ? source.asOf : null,
    clock,
    level: question.level,
    basis: sumOfBases(fleets.map(({ basis }) => basis)),
    warnings: [],
    rows: rowsCommand(isOfLives(question) ? "life" : "installation", question, source),
    by: question.kind,
    slot: question.slot ?? null,
    fleets: found.map(({ judged }) => judged.fleet),
    entities,
    falseNamesExpected: found.reduce((sum, { judged }) => sum + judged.fleet.falseNamesExpected, 0),
    unitOrPosition: found.flatMap(({ counted, judged }) => toldApart(counted, judged, question, unitOf(clock))),
  };
  answer.answer = offendersSentence(answer, source);
  answer.warnings = [
    ...sourceWarnings(source),
    ...outcomeWarnings(question.where),
    ...offendersWarnings(answer, fleets, source),
  ];
  return answer;
}

/** Whether components are looked at rather than frames. */
export function isOfLives({ kind, slot }: Pick<OffendersQuestion, "kind" | "slot">): boolean {
  return slot !== undefined || kind === "batch";
}

async function countedFleets(
  connection: DuckDBConnection,
  question: OffendersQuestion,
  source: Source,
  from: "exposed" | "counts",
): Promise<CountedFleet[]> {
  if (from === "counts") return [await countedTable(connection, question)];
  // A fleet of few leans on the others for how far ordinary rates differ, whichever fleet is asked of.
  const { fleet: _, ...everywhere } = question;
  const by = groupedBy(everywhere, source, ["fleet"]);
  return (await fleetExposures(connection, everywhere, { by, kind: question.kind })).map(countedFleet);
}

type Found = { counted: CountedFleet; judged: Judged };

function judgedFleets(fleets: CountedFleet[], { kind, level }: OffendersQuestion): Found[] {
  const expected = fleets.map((counted) => expectedOf(counted, kind));
  const spread = pooledSpread(fleets, expected);
  return fleets.map((counted, at) => ({ counted, judged: judgedFleet(counted, expected[at]!, spread, level) }));
}

/** Events to be expected of each: of a frame with what its places do put in, of a place with what its frames do. */
function expectedOf({ expected, crossed }: CountedFleet, kind: OffendersQuestion["kind"]): Float64Array {
  if (crossed === null || (kind !== "unit" && kind !== "position") || !shared(crossed.cells)) return expected;
  const { unitExpected, positionExpected } = placeAdjusted(crossed.cells);
  return kind === "unit" ? unitExpected : positionExpected;
}

/** Whether some place has had several frames: only then can the two be told apart. */
function shared({ position, positions }: { position: Int32Array; positions: number }): boolean {
  const frames = new Int32Array(positions);
  for (const one of position) frames[one]!++;
  return frames.some((number) => number > 1);
}

/** Spread of the ordinary ones over all fleets together; null where one fleet is all there is, or large enough, or it can't be found. */
function pooledSpread(fleets: CountedFleet[], expected: Float64Array[]): number | null {
  if (fleets.length < 2 || fleets.every(({ ids }) => ids.length >= ENOUGH_FOR_OWN_SPREAD)) return null;
  const events = Float64Array.from(fleets.flatMap((fleet) => Array.from(fleet.events)));
  const exposure = Float64Array.from(expected.flatMap((own) => Array.from(own)));
  const fit = fitTwoGroups({ events, exposure });
  return fit.found ? fit.ordinary.spread : null;
}

/** Frame or place, of each that stands out and has a place on record. */
function toldApart(
  { crossed, ids, by }: CountedFleet,
  { entities }: Judged,
  { kind }: OffendersQuestion,
  unit: string,
): UnitOrPosition[] {
  const standing = entities.filter(standsOut);
  if (crossed === null || standing.length === 0 || (kind !== "unit" && kind !== "position")) return [];
  const effects = fitCrossedEffects(crossed.cells);
  if (!effects.found) return [];
  const numberOf = new Map(ids.map((id, number) => [id, number]));
  return standing.flatMap(({ id }) => {
    const cell = busiestCell(crossed.cells, kind, numberOf.get(id)!);
    return cell === null ? [] : [unitOrPositionOf({ crossed, effects, cell, fleet: by["fleet"] ?? null, unit })];
  });
}

/** Where most happened to it; null where nothing did. */
function busiestCell(cells: FoundCells, kind: "unit" | "position", entity: number): number | null {
  let most: number | null = null;
  for (let cell = 0; cell < cells.events.length; cell++) {
    if (cells[kind][cell] !== entity || cells.events[cell] === 0) continue;
    if (most === null || cells.events[cell]! > cells.events[most]!) most = cell;
  }
  return most;
}

type FoundCells = NonNullable<CountedFleet["crossed"]>["cells"];

/** What stands out, for those who show it. */
export function standsOut({ verdict }: Entity): boolean {
  return verdict !== "within chance";
}
