import type { FleetOverview, TimelineRow } from "../../src/questions/overview-types.ts";
import type {
  BuildsOfFleet,
  FleetRegister,
  RegisteredBuild,
  RegisteredFrame,
  RegisteredPosition,
} from "../../src/questions/register-types.ts";

/** The register of fleets whose records are their timelines. */
export function registerOf(fleets: Pick<FleetOverview, "name" | "timeline">[]): Map<string, FleetRegister> {
  return new Map(fleets.map(({ name, timeline }) => [name, fleetRegisterOf(name, timeline)]));
}

/** The same of one fleet; with `listed` false its builds are too many to be read. */
export function fleetRegisterOf(fleet: string, timeline: TimelineRow[], listed = true): FleetRegister {
  const numbers = new Map<string, number>();
  const builds = timeline.map((row, at) => {
    const number = numbers.get(row.unit) ?? 0;
    numbers.set(row.unit, number + 1);
    return buildOf(fleet, row, { at, number });
  });
  const units = [...new Set(timeline.map(({ unit }) => unit))];
  const positions = [...new Set(timeline.flatMap(({ position }) => (position === null ? [] : [position])))];
  const byUnit = grouped(builds, ({ unit }) => unit);
  const byPosition = grouped(builds, ({ position }) => position);
  const read: BuildsOfFleet = {
    ofFrame: (id) => byUnit.get(id) ?? [],
    ofPosition: (id) => byPosition.get(id) ?? [],
  };
  return {
    frames: units.map((id) => frameOf(id, read.ofFrame(id))),
    positions: positions.map((id) => positionOf(id, read.ofPosition(id))),
    builds: builds.length,
    history: listed ? read : null,
  };
}

function grouped(
  builds: RegisteredBuild[],
  nameOf: (build: RegisteredBuild) => string,
): Map<string, RegisteredBuild[]> {
  const groups = new Map<string, RegisteredBuild[]>();
  for (const build of builds) {
    const own = groups.get(nameOf(build));
    if (own === undefined) groups.set(nameOf(build), [build]);
    else own.push(build);
  }
  return groups;
}

function buildOf(fleet: string, row: TimelineRow, { at, number }: { at: number; number: number }): RegisteredBuild {
  const failed = row.ends === "failure";
  return {
    id: `${fleet}/${row.unit}/${number}`,
    unit: row.unit,
    number,
    position: row.position ?? "",
    start: row.start,
    stop: row.stop,
    ends: row.ends,
    assumedRunning: row.assumedRunning,
    retired: false,
    failedSlot: failed ? "drive_end_seals" : "",
    found: failed ? [{ slot: "drive_end_seals", condition: "failed", damageMode: "lip_wear" }] : [],
    endPlay: at % 3 === 0 ? null : 1.5 + ((at * 3) % 8),
    lube: at % 3 === 0 ? "" : "oil_bath",
    startSource: `exports/${fleet}_cards.csv:${17 + at}`,
    stopSource: `exports/${fleet}_cards.csv:${18 + at}`,
  };
}

function frameOf(id: string, builds: RegisteredBuild[]): RegisteredFrame {
  const last = builds.at(-1)!;
  return {
    id,
    models: "Frame D2",
    builds: builds.length,
    failures: builds.filter(({ ends }) => ends === "failure").length,
    lastOut: builds.findLast(({ ends }) => ends !== "end")?.stop ?? "",
    position: last.position,
    since: last.start,
    followedTo: last.stop,
    runs: last.ends === "end",
    assumedRunning: last.assumedRunning,
    retiredOn: "",
  };
}

function positionOf(id: string, builds: RegisteredBuild[]): RegisteredPosition {
  const last = builds.toSorted((one, other) => one.start.localeCompare(other.start)).at(-1)!;
  return {
    id,
    frames: new Set(builds.map(({ unit }) => unit)).size,
    builds: builds.length,
    failures: builds.filter(({ ends }) => ends === "failure").length,
    unit: last.unit,
    since: last.start,
    followedTo: last.stop,
    runs: last.ends === "end",
  };
}
