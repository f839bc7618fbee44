import type { DuckDBConnection } from "@duckdb/node-api";
import { UserError } from "../errors.ts";
import type { WhatIfChanges } from "../workspace/what-if.ts";
import type { Source } from "./scope.ts";
import type { SparesLaw } from "./spares-answer.ts";
import type { ServingFleet } from "./spares-fleet.ts";
import type { FleetReading } from "./spares-forecast.ts";
import { OTHERWISE } from "./spares-laws.ts";
import { type PracticeRatio, practiceRatios } from "./spares-practice.ts";
import type { SparesQuestion } from "./spares-scope.ts";
import { count, inWords, unitOf } from "./wording.ts";

/** A shape at which nearly all frames come out at their planned age: 9 of 10 within a tenth of it. */
const AT_ITS_AGE = 25;

/** A reading with changes made, and what they are in words. */
export type ChangedReading = { reading: FleetReading; changes: string[]; warnings: string[] };

type WorkspaceSource = Extract<Source, { kind: "workspace" }>;

/** What a forecast is made from, were things otherwise. The connection holds `studied`. */
export async function changedReading(
  connection: DuckDBConnection,
  reading: FleetReading,
  changes: WhatIfChanges,
  { question, source }: { question: SparesQuestion; source: WorkspaceSource },
): Promise<ChangedReading> {
  checkFleets(changes, reading, source);
  checkParts(changes, reading);
  let changed = reading;
  const said: string[] = [];
  for (const [fleet, frames] of Object.entries(changes.frames ?? {})) {
    changed = { ...changed, serving: withFrames(changed.serving, { fleet, frames, slots: reading.slots.length }) };
    said.push(`${count(Math.abs(frames), "frame")} ${frames < 0 ? "fewer" : "more, new,"} in ${fleet}`);
  }
  if (changes.duty !== undefined) {
    const { duty } = changes;
    const of = (fleet: string) => (typeof duty === "number" ? duty : (duty[fleet] ?? 1));
    const { serving } = changed;
    changed = {
      ...changed,
      serving: { ...serving, rate: serving.rate.map((rate, unit) => rate * of(serving.units[unit]!.fleet)) },
    };
    said.push(`${typeof duty === "number" ? `${inWords(duty)} times the running time` : dutyByFleet(duty)}`);
  }
  const ratios = await practiceRatios(connection, changes, { question, source, fleets: reading.fleets });
  for (const ratio of ratios.found) {
    changed = { ...changed, laws: withRatio(changed, ratio) };
    said.push(ratio.words);
  }
  if (changes.planned_age !== undefined) {
    changed = { ...changed, laws: atPlannedAge(changed, changes.planned_age) };
    said.push(
      `frames rebuilt at ${inWords(changes.planned_age)}${unitOf(question.clock)} if they have not failed before, in place of the openings for other reasons that cards show`,
    );
  }
  if (changes.lead_time_days !== undefined) said.push(leadWords(changes.lead_time_days));
  return { reading: changed, changes: said, warnings: ratios.warnings };
}

function checkFleets(
  { frames = {}, duty }: WhatIfChanges,
  { fleets }: FleetReading,
  { configuration }: WorkspaceSource,
): void {
  const named = [...Object.keys(frames), ...(typeof duty === "object" ? Object.keys(duty) : [])];
  const unknown = named.find((fleet) => !fleets.includes(fleet));
  if (unknown === undefined) return;
  const known = configuration.fleets.some(({ name }) => name === unknown);
  throw new UserError(
    `Cannot change fleet "${unknown}": ${known ? "it has no frame in service, or is not asked for" : `the fleets are ${fleets.join(", ")}`}; leave it out`,
    2,
  );
}

function checkParts({ lead_time_days: lead }: WhatIfChanges, { kits }: FleetReading): void {
  if (typeof lead !== "object") return;
  const known = kits.parts.map(({ part }) => part);
  const unknown = Object.keys(lead).find((part) => !known.includes(part));
  if (unknown === undefined) return;
  throw new UserError(
    `Cannot change the lead time of "${unknown}": no kit takes it; the parts are ${known.join(", ")}`,
    2,
  );
}

function dutyByFleet(duty: Record<string, number>): string {
  return Object.entries(duty)
    .map(([fleet, factor]) => `${inWords(factor)} times the running time in ${fleet}`)
    .join(", ");
}

function leadWords(lead: NonNullable<WhatIfChanges["lead_time_days"]>): string {
  if (typeof lead === "number") return `a lead time of ${count(lead, "day")}`;
  return Object.entries(lead)
    .map(([part, days]) => `a lead time of ${count(days, "day")} for ${part}`)
    .join(", ");
}

/** New frames that run as the middle one of their fleet does; or the last ones by number taken away. */
function withFrames(
  serving: ServingFleet,
  { fleet, frames, slots }: { fleet: string; frames: number; slots: number },
): ServingFleet {
  const { units, age, rate, rateSpread, opened, planned } = serving;
  // Frames that stand in the shop or on the shelf are no more or fewer in service.
  const own = [...units.keys()].filter((unit) => units[unit]!.fleet === fleet && rate[unit]! > 0);
  if (own.length === 0) {
    throw new UserError(`Cannot change the frames of ${fleet}: none of it is in service; leave it out`, 2);
  }
  if (-frames > own.length) {
    throw new UserError(`Cannot take ${-frames} frames from ${fleet}: it has ${own.length} in service; take fewer`, 2);
  }
  const gone = new Set(frames < 0 ? own.slice(frames) : []);
  const kept = [...units.keys()].filter((unit) => !gone.has(unit));
  const middle = own.toSorted((one, other) => rate[one]! - rate[other]!)[Math.floor(own.length / 2)]!;
  const added = Array.from({ length: Math.max(0, frames) }, () => middle);
  const width = slots + 1;
  const all = [...kept, ...added];
  return {
    ...serving,
    units: all.map((unit) => units[unit]!),
    rate: Float64Array.from(all, (unit) => rate[unit]!),
    rateSpread: Float64Array.from(all, (unit) => rateSpread[unit]!),
    age: Float64Array.from(all.flatMap((unit, at) => ages(age, unit, width, at >= kept.length))),
    opened: Int32Array.from([...opened].flatMap((unit) => (gone.has(unit) ? [] : [kept.indexOf(unit)]))),
    planned: {
      unit: planned.unit.filter((unit) => !gone.has(unit)).map((unit) => kept.indexOf(unit)),
      month: planned.month.filter((_, at) => !gone.has(planned.unit[at]!)),
    },
  };
}

function ages(age: Float64Array, unit: number, width: number, isNew: boolean): number[] {
  return Array.from({ length: width }, (_, slot) => (isNew ? 0 : age[unit * width + slot]!));
}

/** Scales times a ratio, of one slot in one fleet. */
function withRatio({ laws, fleets, slots }: FleetReading, { slot, byFleet }: PracticeRatio): FleetReading["laws"] {
  const width = laws.laws.restart.length;
  const scale = laws.laws.scale.slice();
  for (const [nth, fleet] of fleets.entries()) {
    const place = nth * (slots.length + 1) + slots.indexOf(slot);
    const ratio = byFleet.get(fleet) ?? 1;
    for (let at = place; at < scale.length; at += width) scale[at]! *= ratio;
  }
  const told = laws.told.map((law) => ({ ...law, scale: changedScale(law, slot, byFleet) }));
  return { ...laws, laws: { ...laws.laws, scale }, told };
}

function changedScale({ scale, slot, fleet }: SparesLaw, changed: string, byFleet: Map<string, number>): number | null {
  return scale === null || slot !== changed ? scale : scale * (byFleet.get(fleet) ?? 1);
}

/** The law of openings for other reasons becomes one of openings at an age. */
function atPlannedAge({ laws, fleets, slots }: FleetReading, age: number): FleetReading["laws"] {
  const width = laws.laws.restart.length;
  const [shape, scale] = [laws.laws.shape.slice(), laws.laws.scale.slice()];
  for (let nth = 0; nth < fleets.length; nth++) {
    const place = nth * (slots.length + 1) + slots.length;
    for (let at = place; at < scale.length; at += width) [shape[at], scale[at]] = [AT_ITS_AGE, age];
  }
  const told = laws.told.map((law) => (law.slot === OTHERWISE ? { ...law, shape: AT_ITS_AGE, scale: age } : law));
  return { ...laws, laws: { ...laws.laws, shape, scale }, told };
}
