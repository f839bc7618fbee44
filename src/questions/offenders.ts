import type { DuckDBConnection } from "@duckdb/node-api";
import { crossedEffectsAt } from "../stats/offenders/crossed-effects-at.ts";
import { type PlaceAdjusted, placeAdjusted } from "../stats/offenders/place-adjusted.ts";
import { fitTwoGroups } from "../stats/offenders/two-groups.ts";
import { sumOfBases } from "./basis.ts";
import { outcomeWarnings } from "./conditions.ts";
import { type CountedFleet, countedFleet } from "./counted-fleet.ts";
import { countedTable } from "./counted-table.ts";
import { addDamage, type FoundDamage, foundDamage } from "./damage-profile.ts";
import { fleetExposures } from "./fleet-exposure.ts";
import { groupedBy } from "./grouping.ts";
import { byCertainty, ENOUGH_FOR_OWN_SPREAD, type Judged, judgedFleet } from "./judged-fleet.ts";
import { movedLives } from "./moved-lives.ts";
import type { Entity, OffendersAnswer, UnitOrPosition } from "./offenders-answer.ts";
import { offendersSentence } from "./offenders-sentence.ts";
import { movedWarnings, offendersWarnings } from "./offenders-warnings.ts";
import { rowsCommand } from "./rows-command.ts";
import { isOfLives, type OffendersQuestion, type Source, sourceWarnings } from "./scope.ts";
import { unitOrPositionOf } from "./unit-or-position.ts";
import { unmetWarnings } from "./unmet-condition.ts";
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
  const answer = answerOf(found, await damageOf(connection, found, question, source), question, source);
  if (answer.entities.length === 0) {
    const table = from === "counts" ? "counted_rows" : "exposed";
    answer.warnings.push(...(await unmetWarnings(connection, table, question.where)));
  }
  if (source.kind === "workspace" && isOfMovedLives(question)) {
    answer.warnings.push(...movedWarnings(await movedLives(connection, question), question));
  }
  return answer;
}

/** The same of each fleet of a workspace apart, by its name, judged once. */
export async function askOffendersByFleet(
  connection: DuckDBConnection,
  question: Omit<OffendersQuestion, "fleet">,
  source: Source,
): Promise<Map<string, OffendersAnswer>> {
  const every = judgedFleets(await countedFleets(connection, question, source, "exposed"), question);
  const damage = await damageOf(connection, every, question, source);
  const answers = new Map<string, OffendersAnswer>();
  const fleets = source.kind === "workspace" ? source.configuration.fleets : [];
  for (const { name: fleet } of fleets) {
    const found = every.filter(({ counted }) => counted.by["fleet"] === fleet);
    answers.set(fleet, answerOf(found, damage, { ...question, fleet }, source));
  }
  return answers;
}

/** What is known of the damage to those that stand out, where there are any. */
async function damageOf(
  connection: DuckDBConnection,
  found: Found[],
  question: OffendersQuestion,
  source: Source,
): Promise<FoundDamage | null> {
  const any = found.some(({ judged }) => judged.entities.some(standsOut));
  return any && source.kind === "workspace" ? foundDamage(connection, question) : null;
}

function answerOf(
  found: Found[],
  damage: FoundDamage | null,
  question: OffendersQuestion,
  source: Source,
): OffendersAnswer {
  const fleets = found.map(({ counted }) => counted);
  const entities = found.flatMap(({ judged }) => judged.entities).toSorted(byCertainty);
  if (damage !== null) addDamage(entities.filter(standsOut), damage, question.seed);
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
    unitOrPosition: found.flatMap((one) => toldApart(one, question, unitOf(clock))),
  };
  answer.answer = offendersSentence(answer, source);
  answer.warnings = [
    ...sourceWarnings(source),
    ...outcomeWarnings(question.where),
    ...offendersWarnings(answer, fleets, source),
  ];
  return answer;
}

/** Whether parts may have moved between the places that are looked at. */
export function isOfMovedLives({ kind, slot }: Pick<OffendersQuestion, "kind" | "slot">): boolean {
  return slot !== undefined && (kind === "position" || kind === "site");
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

type Found = {
  counted: CountedFleet;
  /** What its places put into what is expected of a frame, and its frames of a place; null where they can't be told apart. */
  adjusted: PlaceAdjusted | null;
  judged: Judged;
};

function judgedFleets(fleets: CountedFleet[], { kind, level }: OffendersQuestion): Found[] {
  const adjusted = fleets.map(({ crossed }) =>
    crossed !== null && (kind === "unit" || kind === "position") && shared(crossed.cells)
      ? placeAdjusted(crossed.cells)
      : null,
  );
  const expected = fleets.map((counted, at) => expectedOf(counted, adjusted[at]!, kind));
  const spread = pooledSpread(fleets, expected);
  return fleets.map((counted, at) => ({
    counted,
    adjusted: adjusted[at]!,
    judged: judgedFleet(counted, expected[at]!, spread, level),
  }));
}

/**
 * What all others make expect of each, by its places or its frames: cells of unit and position leave out themselves alone, so that
 * what they say of the other side is put to what is expected without all of its own.
 */
function expectedOf(
  counted: CountedFleet,
  adjusted: PlaceAdjusted | null,
  kind: OffendersQuestion["kind"],
): Float64Array {
  const { crossed, expected } = counted;
  if (adjusted === null || crossed === null || (kind !== "unit" && kind !== "position")) return expected;
  const plain = new Float64Array(expected.length);
  for (const [cell, own] of crossed.cells[kind].entries()) plain[own]! += crossed.cells.expected[cell]!;
  const told = kind === "unit" ? adjusted.unitExpected : adjusted.positionExpected;
  return expected.map((without, own) => (plain[own]! > 0 ? (without * told[own]!) / plain[own]! : without));
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
  { counted: { crossed, ids, by }, adjusted, judged }: Found,
  { kind }: OffendersQuestion,
  unit: string,
): UnitOrPosition[] {
  const standing = judged.entities.filter(standsOut);
  if (crossed === null || standing.length === 0 || (kind !== "unit" && kind !== "position")) return [];
  const numberOf = new Map(ids.map((id, number) => [id, number]));
  const busiest = busiestCells(crossed.cells, kind);
  const asked = standing.flatMap(({ id }) => busiest.get(numberOf.get(id)!) ?? []);
  const told = crossedEffectsAt(crossed.cells, asked, adjusted ?? undefined);
  if (!told.found) return [];
  return told.at.map((effects, at) =>
    unitOrPositionOf({ crossed, cell: asked[at]!, effects, fleet: by["fleet"] ?? null, unit }),
  );
}

/** Where most happened to each to which anything did. */
function busiestCells(cells: FoundCells, kind: "unit" | "position"): Map<number, number> {
  const busiest = new Map<number, number>();
  for (let cell = 0; cell < cells.events.length; cell++) {
    const entity = cells[kind][cell]!;
    const most = busiest.get(entity);
    if (cells.events[cell]! > (most === undefined ? 0 : cells.events[most]!)) busiest.set(entity, cell);
  }
  return busiest;
}

type FoundCells = NonNullable<CountedFleet["crossed"]>["cells"];

/** What stands out, for those who show it. */
export function standsOut({ verdict }: Pick<Entity, "verdict">): boolean {
  return verdict !== "within chance";
}
