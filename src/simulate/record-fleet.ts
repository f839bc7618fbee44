import type { Build, Finding, FleetHistory, Rebuild, Stay } from "./history.ts";
import { shownHours } from "./meter.ts";
import type { Random } from "./random.ts";
import { type Metered, readMeters, roundReadings } from "./read-meters.ts";
import type { CardRecord, FleetRecords, Reason, RetirementRecord, SlotRecord, UnitRecord } from "./records.ts";
import type { World } from "./world.ts";

/** What is left out where the scenario says nothing of records: nothing. */
const COMPLETE = {
  end_play_missing: 0,
  unshimmed_missing: 0,
  shims_wrong: 0,
  installed_missing: 0,
  reason_unknown: 0,
  reason_names_slot: 1,
  mode_missing: 0,
  condition_missing: 0,
  condition_not_inspected: 0,
  corrected_cards: 0,
};

/** By how much a pack is written wrong, in whole thou. */
const SLIP_THOU = [4, 9] as const;
const CAUSES = { scrapped: 5, sold: 3, lost: 1 };
/** What the owner's records say of a fleet: true but for what the scenario has them leave out, and for the meters. */
export function recordFleet(world: World, history: FleetHistory): FleetRecords {
  const { metered, faults } = readMeters(world, history);
  const meterOf = new Map(metered.map((meter) => [meter.unit, meter]));
  const written = history.rebuilds
    .filter(({ stay }) => stay.removedOn >= world.recordsBegin)
    .map((rebuild, index) => {
      const meter = meterOf.get(rebuild.stay.unit)!;
      const card = writeCard(world, rebuild, meter, index + 1);
      return { card: rebuild.build.builtOn > world.asOf ? stillOpen(card) : card, fitted: rebuild.build.shimsThou };
    });
  const cards = written.map(({ card }) => card);
  return {
    cards,
    firstWritten: firstWritten(world, cards),
    wrongShims: written.flatMap(({ card: { number, shimsThou }, fitted }) =>
      shimsThou === null || shimsThou === fitted ? [] : [{ number, written: shimsThou, fitted }],
    ),
    units: metered.map((meter) => listUnit(world, meter)),
    readings: roundReadings(world, metered),
    retirements: metered.flatMap((meter) => retirement(world, meter)),
    meterFaults: faults,
  };
}

function writeCard(
  world: World,
  { stay, receivedOn, build, findings, next }: Rebuild,
  { spans }: Metered,
  number: number,
): CardRecord {
  const { unit, position } = stay;
  const random = world.random("card", unit.index, build.number);
  const said = world.scenario.records ?? COMPLETE;
  const reasonUnknown = random.chance(said.reason_unknown);
  const named = random.chance(said.reason_names_slot) && !reasonUnknown;
  const endPlayMissing = random.chance(said.end_play_missing);
  const installedMissing = random.chance(said.installed_missing);
  // As found there is always some more play than as built, and much more where a bearing gave way.
  const wear = Math.abs(random.normal(0, stay.failedSlot?.includes("bearing") ? 4 : 0.6)) + 0.3;
  return {
    number,
    unit: unit.serial,
    model: unit.model,
    speedRpm: unit.speedRpm,
    fromSite: position.site,
    fromPosition: position.code,
    ...whereTo(next, spans),
    removedOn: stay.removedOn,
    receivedOn,
    builtOn: build.builtOn,
    installedOn: installedMissing ? null : (next?.installedOn ?? null),
    hoursRemoved: shownHours(spans, stay.removedOn, stay.hoursRemoved),
    reason: reasonUnknown ? "unknown" : (stay.ends as Reason), // only stays that end in the shop have a card
    failedSlot: named ? stay.failedSlot : null,
    lube: build.lube,
    sealArrangement: build.sealArrangement,
    endPlayThou: endPlayMissing ? null : build.endPlayReadThou,
    endPlayFoundThou: stay.build.endPlayThou + wear,
    ...writeShims(world, unit.index, build),
    ringTemperatureF: build.ringTemperatureF,
    fitter: build.fitter,
    slots: new Map(findings.map((finding) => [finding.slot, writeSlot(world, finding, random)])),
  };
}

/** The pack, now and then written wrong, and what was read before it went in, now and then left out. */
function writeShims(
  { random, scenario }: World,
  unit: number,
  { number, shimsThou, unshimmedReadThou, raceDepthReadThou, spigotHeightReadThou }: Build,
): Pick<CardRecord, "shimsThou" | "unshimmedThou" | "raceDepthThou" | "spigotHeightThou"> {
  const said = scenario.records ?? COMPLETE;
  const draws = random("shim card", unit, number);
  const told = (thou: number) => (draws.chance(said.unshimmed_missing) ? null : thou);
  const [unshimmedThou, raceDepthThou, spigotHeightThou] = [
    told(unshimmedReadThou),
    told(raceDepthReadThou),
    told(spigotHeightReadThou),
  ];
  const wrong = draws.chance(said.shims_wrong);
  const slip = draws.integer(...SLIP_THOU);
  const thinner = draws.chance(0.5) && shimsThou > slip;
  const off = wrong ? (thinner ? -slip : slip) : 0;
  return { shimsThou: shimsThou + off, unshimmedThou, raceDepthThou, spigotHeightThou };
}

function whereTo(
  next: Stay | null,
  spans: Metered["spans"],
): Pick<CardRecord, "toSite" | "toPosition" | "hoursInstalled"> {
  if (next === null) return { toSite: null, toPosition: null, hoursInstalled: null };
  const { position, installedOn, hoursInstalled } = next;
  return {
    toSite: position.site,
    toPosition: position.code,
    hoursInstalled: shownHours(spans, installedOn, hoursInstalled),
  };
}

/** The card of a frame that is in the shop at the end: found, not yet built. */
function stillOpen(card: CardRecord): CardRecord {
  const slots = new Map(
    [...card.slots].map(([slot, found]) => [slot, { ...found, fitted: null, part: null, batch: null }]),
  );
  const unbuilt = { builtOn: null, installedOn: null, hoursInstalled: null, lube: null, sealArrangement: null };
  const unread = { shimsThou: null, unshimmedThou: null, raceDepthThou: null, spigotHeightThou: null };
  return { ...card, ...unbuilt, ...unread, endPlayThou: null, ringTemperatureF: null, fitter: null, slots };
}

function writeSlot({ scenario }: World, { slot, condition, mode, fitted, batch }: Finding, random: Random): SlotRecord {
  const said = scenario.records ?? COMPLETE;
  const missing = random.chance(said.condition_missing);
  const uninspected = random.chance(said.condition_not_inspected);
  const modeMissing = random.chance(said.mode_missing);
  const put = { fitted, part: fitted ? (scenario.slots[slot]?.part ?? null) : null, batch };
  if (missing) return { condition: null, mode: null, ...put };
  // What failed was looked at: the frame came in for it.
  if (condition !== "failed") return { condition: uninspected ? "not_inspected" : condition, mode: null, ...put };
  return { condition, mode: modeMissing ? null : mode, ...put };
}

/** Some cards were first written wrong: another fitter's code and an end play one thou off. A later export has them right. */
function firstWritten(world: World, cards: CardRecord[]): Map<number, CardRecord> {
  const random = world.random("corrected");
  const wrong = new Map<number, CardRecord>();
  const count = Math.min((world.scenario.records ?? COMPLETE).corrected_cards, Math.floor(cards.length / 4));
  while (wrong.size < count) {
    const card = random.pick(cards);
    const endPlayThou = card.endPlayThou === null ? null : card.endPlayThou + 1;
    wrong.set(card.number, { ...card, endPlayThou, fitter: "F00" });
  }
  return wrong;
}

function listUnit(world: World, { unit, stays }: Metered): UnitRecord {
  const { plan, recordsBegin, asOf } = world;
  const first = stays[0]!;
  const early = first.installedOn < recordsBegin;
  const known = world.random("list", unit.index).chance(plan.last_rebuild_known);
  // The build that ran when the records began, or the first: that before the unit's first card.
  const before = stays.findLast((_, index) => index === 0 || stays[index - 1]!.removedOn < recordsBegin) ?? first;
  return {
    unit: unit.serial,
    model: unit.model,
    speedRpm: unit.speedRpm,
    site: before.position.site,
    position: before.position.code,
    commissionedOn: first.installedOn,
    lastRebuiltOn: early && known ? before.installedOn : null,
    // The list is of units in service: a frame on the shelf or in the shop is not on it.
    listedOn: stays.at(-1)!.ends === "running" ? asOf : null,
  };
}

function retirement(world: World, { unit }: Metered): RetirementRecord[] {
  if (unit.retiresOn > world.asOf) return [];
  return [
    { unit: unit.serial, retiredOn: unit.retiresOn, cause: world.random("retired", unit.index).weighted(CAUSES) },
  ];
}
