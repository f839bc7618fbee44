import { drawBuild } from "./draw-build.ts";
import { drawPositions } from "./draw-positions.ts";
import { drawUnits } from "./draw-units.ts";
import { endStay } from "./end-stay.ts";
import { fitSlots } from "./fit-slots.ts";
import type { Build, Fitting, FleetHistory, Lube, Position, Rebuild, Stay, Unit } from "./history.ts";
import { lifeFactor } from "./life-factor.ts";
import { tearDown } from "./tear-down.ts";
import type { World } from "./world.ts";

/** A frame on the shelf: what is in it, what it has run, and the card that waits for its next installation. */
type Frame = { unit: Unit; build: Build; fittings: Fitting[]; hours: number; rebuild: Rebuild | null };
type Event = { on: number; frame: Frame } | { on: number; position: Position };

/** Lives a fleet through, from the scenario's first day to the world's last: frames are installed, run, fail or are taken out, and are rebuilt. */
export function liveFleet(world: World): FleetHistory {
  const units = drawUnits(world);
  const positions = drawPositions(world, units);
  const history: FleetHistory = { plan: world.plan, units, positions, stays: [], rebuilds: [], lives: [] };
  const events: Event[] = [
    ...positions.map((position) => ({ on: position.opensOn, position })),
    ...units.map((unit) => ({ on: unit.boughtOn, frame: newFrame(world, unit) })),
  ].sort((a, b) => a.on - b.on);
  const vacant: Position[] = [];
  const ready: Frame[] = [];
  for (let event = events.shift(); event !== undefined && event.on <= world.until; event = events.shift()) {
    if ("frame" in event) ready.push(event.frame);
    else vacant.push(event.position);
    const position = vacant[0];
    const frame = position && takeReady(world, ready, position, event.on);
    if (position === undefined || frame === undefined) continue;
    vacant.shift();
    for (const next of install(world, history, frame, position, event.on)) schedule(events, next);
  }
  history.rebuilds.sort((a, b) => a.receivedOn - b.receivedOn || a.stay.unit.index - b.stay.unit.index);
  return history;
}

function schedule(events: Event[], event: Event): void {
  let at = events.length;
  while (at > 0 && events[at - 1]!.on > event.on) at--;
  events.splice(at, 0, event);
}

function newFrame(world: World, unit: Unit): Frame {
  const made = { number: 0, builtOn: unit.boughtOn, lube: unit.lubeBought };
  return { unit, build: drawBuild(world, unit, made), fittings: fitSlots(world, unit, made), hours: 0, rebuild: null };
}

/** Takes the frame that the store hands out for a position off the shelf. */
function takeReady({ plan, random }: World, ready: Frame[], position: Position, on: number): Frame | undefined {
  for (let at = ready.length - 1; at >= 0; at--) if (ready[at]!.unit.retiresOn <= on) ready.splice(at, 1);
  const usual: Lube = position.surroundings === "clean" ? "oil_bath" : "grease";
  const matches = random("store", position.code, on).chance(plan.lube_matched);
  const suiting = matches ? ready.findIndex(({ build }) => build.lube === usual) : -1;
  return ready.splice(Math.max(0, suiting), 1)[0];
}

/** Puts a frame to work at a position; what follows from it: the position is vacant again, the frame comes back from the shop. */
function install(world: World, history: FleetHistory, frame: Frame, position: Position, on: number): Event[] {
  const { unit, build, fittings } = frame;
  const installedOn = on + world.random("install", unit.index, build.number).integer(...world.plan.days_to_install);
  // Too late for this frame: the position looks for another.
  if (installedOn >= Math.min(unit.retiresOn, world.until)) return [{ on, position }];
  // On the as-of day it lay on the shelf: what is on record then must not hang on how far the fleet is lived on.
  if (on <= world.asOf && installedOn >= world.asOf)
    return [
      { on, position },
      { on: world.asOf + 1, frame },
    ];
  const run = fittings.map((fitting) => ({
    fitting,
    factor: lifeFactor(world.scenario, fitting, build, position, unit),
  }));
  for (const { fitting, factor } of run) {
    if (fitting.firstFactor !== null) continue;
    fitting.firstFactor = factor;
    history.lives.push({ slot: fitting.slot, factor, beganOn: installedOn });
  }
  const stay = endStay(world, { unit, position, build, installedOn, hoursInstalled: frame.hours }, run);
  for (const { fitting, factor } of run) {
    const used = fitting.used + (stay.hoursRemoved - stay.hoursInstalled) / factor;
    fitting.used = fitting.slot === stay.failedSlot ? fitting.life : used;
  }
  history.stays.push(stay);
  if (frame.rebuild) frame.rebuild.next = stay;
  if (stay.ends === "running") return [];
  const vacated = { on: stay.removedOn, position };
  return stay.ends === "retirement" ? [vacated] : [vacated, rebuild(world, history, frame, stay)];
}

/** Takes a frame through the shop: it is opened, renewed, built and ready again. */
function rebuild(world: World, history: FleetHistory, { unit, build, fittings }: Frame, stay: Stay): Event {
  const number = build.number + 1;
  const random = world.random("shop", unit.index, number);
  const receivedOn = stay.removedOn + random.integer(...world.plan.days_to_shop);
  const builtOn = receivedOn + random.integer(...world.plan.days_in_shop);
  const made = { number, builtOn, lube: stay.ends === "modification" ? "oil_bath" : build.lube };
  const findings = tearDown(world, fittings, stay, number);
  const fresh = fitSlots(world, unit, made);
  findings.forEach((finding, index) => {
    if (finding.fitted) finding.batch = fresh[index]!.batch;
  });
  const opened: Rebuild = { stay, receivedOn, build: drawBuild(world, unit, made), findings, next: null };
  // A card is opened when the frame comes into the shop.
  if (receivedOn <= world.until) history.rebuilds.push(opened);
  const fitted = fittings.map((fitting, index) => (findings[index]!.fitted ? fresh[index]! : fitting));
  return {
    on: builtOn,
    frame: { unit, build: opened.build, fittings: fitted, hours: stay.hoursRemoved, rebuild: opened },
  };
}
