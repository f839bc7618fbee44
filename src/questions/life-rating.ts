import type { DuckDBConnection } from "@duckdb/node-api";
import { columns } from "../store/columns.ts";
import type { Configuration } from "../workspace/configuration.ts";
import type { LifeGroup } from "./answer.ts";
import type { Estimate } from "./estimate.ts";
import type { Rating } from "./life-answer.ts";
import { bearingFacts, type Stated } from "./rating-facts.ts";
import { ratedLife } from "./rating-life.ts";
import { type BearingRecord, bearingRecords } from "./rating-records.ts";
import type { LifeQuestion, Source } from "./scope.ts";
import { count, inWords } from "./wording.ts";

/**
 * Gives each group of bearings its catalogue life, and the life seen over it.
 * @param groups - in the order of their numbers in the table `grouped`, which must be there
 */
export async function addRatings(
  connection: DuckDBConnection,
  groups: LifeGroup[],
  question: LifeQuestion,
  source: Source,
): Promise<void> {
  if (source.kind === "table") return;
  const { configuration } = source;
  const rated = groups.filter(({ by }) => configuration.slots[by["slot"] ?? ""]?.kind === "bearing");
  if (question.clock === "days") {
    for (const group of rated) group.rating = none("catalogue life counts running hours: ask with --clock hours");
    return;
  }
  const records = await bearingRecords(connection, partsOf(configuration));
  const speeds = await groupSpeeds(connection);
  groups.forEach((group, number) => {
    if (!rated.includes(group)) return;
    group.rating = ratingOf(group, configuration, records, speeds.get(number) ?? null);
    group.warnings.push(...group.rating.warnings);
  });
}

/** What holds of every catalogue life, said once where there is one. */
export function ratingWarnings(groups: LifeGroup[]): string[] {
  if (groups.every(({ rating }) => rating === null || rating.l10h === null)) return [];
  return [
    "catalogue life covers fatigue of the rolling contact alone and is taken as exact; lives seen end by every kind of failure, so that a ratio below 1 points to lubrication, dirt, fitting or load before it points to the bearings",
  ];
}

function partsOf({ bearings }: Configuration): string[] {
  const entries = Object.values(bearings).flatMap((bearing) => [bearing, ...Object.values(bearing.fleets)]);
  return [...new Set(entries.flatMap(({ part }) => (part === undefined ? [] : [part])))];
}

type Speed = Stated<number> & { low: number; high: number };

/** The median speed of the lives of each group that has any, by the group's number. */
async function groupSpeeds(connection: DuckDBConnection): Promise<Map<number, Speed>> {
  // Where groups are made by speed it stands there as text.
  const found = await columns(
    connection,
    `select group_number, median(speed) as median, min(speed) as low, max(speed) as high, count(*)::integer as lives
     from (select group_number, try_cast(speed as double) as speed from grouped where left_out is null)
     where speed >= 1 group by group_number`,
    { group_number: "integer", median: "number", low: "number", high: "number", lives: "integer" },
  );
  return new Map(
    Array.from(found.group_number, (number, row) => {
      const [low, high] = [found.low[row]!, found.high[row]!];
      const range = low === high ? "all alike" : `${inWords(low)} to ${inWords(high)} r/min`;
      const source = `median of ${count(found.lives[row]!, "life", "lives")} by cards and lists, ${range}`;
      return [number, { value: found.median[row]!, source, low, high }];
    }),
  );
}

function ratingOf(
  group: LifeGroup,
  { bearings, slots }: Configuration,
  records: Map<string, BearingRecord>,
  speed: Speed | null,
): Rating {
  const { fleet = "", slot = "" } = group.by;
  const bearing = bearings[slot];
  if (bearing === undefined) {
    const reason = `no bearing data are given: put kind, dynamic_rating, loads and their source under bearings, ${slot} in framelife.yaml`;
    return none(reason);
  }
  const facts = bearingFacts(bearing, fleet, (part) => records.get(part));
  const { basis, basic, modified, reason, warnings } = ratedLife(facts, {
    slot,
    pieces: slots[slot]?.quantity ?? 1,
    speed,
  });
  if (basic === null) return { ...none(reason ?? "it can't be reckoned"), basis, warnings };
  return {
    basis,
    l10h: basic,
    modified,
    ratio: seenOver(group.l10, modified ?? basic),
    warnings: [...warnings, ...(facts.speed === undefined ? mixedSpeeds(speed) : [])],
  };
}

/** Speeds this near give lives that differ less than their limits do. */
const ALIKE = 1.1;

function mixedSpeeds(speed: Speed | null): string[] {
  if (speed === null || speed.high <= ALIKE * speed.low) return [];
  const range = `${inWords(speed.low)} to ${inWords(speed.high)} r/min`;
  return [
    `catalogue life is that at the median speed, ${inWords(speed.value)} of ${range}: --by speed tells them apart`,
  ];
}

function none(reason: string): Rating {
  const ratio = { estimate: null, low: null, high: null, reason };
  return { basis: [], l10h: null, modified: null, ratio, warnings: [], reason };
}

/** The catalogue life has no limits of its own: both limits of the life seen are divided by it. */
function seenOver(seen: Estimate, rated: number): Estimate {
  const over = (hours: number | null) => (hours === null ? null : hours / rated);
  const ratio = { estimate: over(seen.estimate), low: over(seen.low), high: over(seen.high) };
  if (seen.reason !== undefined) return { ...ratio, reason: seen.reason };
  return ratio.estimate === null ? { ...ratio, reason: "L10 of these lives is not known" } : ratio;
}
