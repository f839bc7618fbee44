import type { DuckDBConnection } from "@duckdb/node-api";
import { compareModes } from "../stats/offenders/mode-profile.ts";
import { columns } from "../store/columns.ts";
import { quoteIdentifier } from "../store/quote.ts";
import { checkedCondition } from "./conditions.ts";
import type { DamageProfile, Entity } from "./offenders-answer.ts";
import { isOfLives, type OffendersQuestion } from "./scope.ts";

/** Failures by damage mode: of each fleet, and of each entity in it. */
export type FoundDamage = { ofFleet: Map<string, Map<string, number>>; ofEntity: Map<string, Map<string, number>> };

/**
 * The damage that was found at failures, of all fleets or of the one that is asked of. Where frames are judged, a part that moved with its
 * frame counts at the place where it failed; where one slot is, at the place where it was fitted, as its failure does.
 */
export async function foundDamage(
  connection: DuckDBConnection,
  question: Pick<OffendersQuestion, "kind" | "slot" | "fleet" | "where">,
): Promise<FoundDamage> {
  const { kind, slot, fleet } = question;
  const found = await columns(
    connection,
    `select fleet, ${quoteIdentifier(kind)}::varchar as entity, damage_mode as mode, count(*)::integer as failures
     from ${slot === undefined && (kind === "position" || kind === "site") ? ENDED_THERE : "life"} where status = 'failed' and damage_mode is not null and entity is not null and coalesce(slot = $slot, true)
       and coalesce(fleet = $fleet, true) and ${await inQuestion(connection, question)}
     group by all order by all`,
    { fleet: "text", entity: "text", mode: "text", failures: "integer" },
    { slot: slot ?? null, fleet: fleet ?? null },
  );
  const damage: FoundDamage = { ofFleet: new Map(), ofEntity: new Map() };
  found.mode.forEach((mode, row) => {
    add(damage.ofFleet, found.fleet[row]!, mode, found.failures[row]!);
    add(damage.ofEntity, keyOf(found.fleet[row]!, found.entity[row]!), mode, found.failures[row]!);
  });
  return damage;
}

/** SQL of whether a life's failure is one that the condition asked for leaves: a condition on builds is on the one in which it failed. */
async function inQuestion(
  connection: DuckDBConnection,
  question: Pick<OffendersQuestion, "kind" | "slot" | "where">,
): Promise<string> {
  const { where } = question;
  if (where === undefined) return "true";
  const key = isOfLives(question) ? "life_id" : "fleet, unit, stop_file, stop_row";
  return `(${key}) in (select (${key}) from exposed where ${await checkedCondition(connection, "exposed", where)})`;
}

/** Lives, with the place at which their last build ran, as far as that build is on record, in place of that of their first. */
const ENDED_THERE = `(select l.* replace (case when i.unit is null then l.position else i.position end as position, case when i.unit is null then l.site else i.site end as site)
  from life l left join installation i on i.fleet = l.fleet and i.unit = l.unit and i.stop_file = l.stop_file and i.stop_row = l.stop_row
  where l.ended_by = 'rebuild')`;

/** Gives each entity the damage that was found at its failures, beside that at all others of its fleet. */
export function addDamage(entities: Entity[], { ofFleet, ofEntity }: FoundDamage, seed: number): void {
  for (const entity of entities) {
    const fleet = ofFleet.get(entity.fleet ?? "") ?? new Map<string, number>();
    entity.damage = profileOf(ofEntity.get(keyOf(entity.fleet ?? "", entity.id)) ?? new Map(), fleet, seed);
  }
}

function keyOf(fleet: string, entity: string): string {
  return `${fleet}\n${entity}`;
}

function add(sums: Map<string, Map<string, number>>, key: string, mode: string, failures: number): void {
  const own = sums.get(key) ?? new Map<string, number>();
  own.set(mode, (own.get(mode) ?? 0) + failures);
  sums.set(key, own);
}

function profileOf(own: Map<string, number>, fleet: Map<string, number>, seed: number): DamageProfile {
  const modes = [...fleet].map(([mode, all]) => ({
    mode,
    own: own.get(mode) ?? 0,
    others: all - (own.get(mode) ?? 0),
  }));
  modes.sort(
    (one, other) => other.own - one.own || other.others - one.others || one.mode.localeCompare(other.mode, "en"),
  );
  const compared = compareModes(
    Int32Array.from(modes, (mode) => mode.own),
    Int32Array.from(modes, (mode) => mode.others),
    { seed },
  );
  return { modes, p: compared.p, ...("reason" in compared ? { reason: compared.reason } : {}) };
}
