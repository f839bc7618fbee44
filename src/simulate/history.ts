import type { FleetPlan } from "./fleet-plan.ts";
import type { Spell } from "./running-time.ts";

export type Lube = "oil_bath" | "grease";

/** A frame and its lasting traits. Days are day numbers, see day.ts. */
export type Unit = {
  index: number;
  serial: string;
  model: string;
  speedRpm: number;
  boughtOn: number;
  retiresOn: number;
  lubeBought: Lube;
  /** Log of the factor on all its lives. */
  frailty: number;
  hoursADay: number;
  idle: Spell[];
};

export type Position = {
  code: string;
  site: string;
  surroundings: "clean" | "dirty";
  opensOn: number;
  offender: FleetPlan["offenders"][number] | undefined;
};

/** What the bench made of a frame. Build 0 is the maker's, of which no card tells. */
export type Build = {
  number: number;
  builtOn: number;
  lube: Lube;
  /** As it truly is, and as the gauge read it; thou. */
  endPlayThou: number;
  endPlayReadThou: number;
  /** The pack, which takes up what the end play is too much without it. */
  shimsThou: number;
  /** As the gauge read it before the pack went in: the play at once, or what makes it up. */
  unshimmedReadThou: number;
  raceDepthReadThou: number;
  spigotHeightReadThou: number;
  ringTemperatureF: number;
  fitter: string;
  sealArrangement: string;
};

/** A component in its slot: base hours are running hours divided by the factor under which they are run. */
export type Fitting = { slot: string; life: number; used: number; batch: string | null; firstFactor: number | null };

export type Ending = "failure" | "planned" | "opportunity" | "modification" | "retirement" | "running";

/** A build at a position: from its installation to its removal, or to the last day lived through. Hours are the unit's own since it was bought. */
export type Stay = {
  unit: Unit;
  position: Position;
  build: Build;
  installedOn: number;
  removedOn: number;
  hoursInstalled: number;
  hoursRemoved: number;
  ends: Ending;
  failedSlot: string | null;
};

/** What a teardown found in a slot, and whether a new component went in. */
export type Finding = {
  slot: string;
  condition: "failed" | "worn" | "serviceable";
  mode: string | null;
  fitted: boolean;
  batch: string | null;
};

/** One visit to the shop. */
export type Rebuild = {
  stay: Stay;
  receivedOn: number;
  build: Build;
  findings: Finding[];
  next: Stay | null;
};

/** A life as it began: the factor that its covariates gave it then. */
type LifeBegun = { slot: string; factor: number; beganOn: number };

/** All that happened to a fleet, as it truly was. */
export type FleetHistory = {
  plan: FleetPlan;
  units: Unit[];
  positions: Position[];
  stays: Stay[];
  rebuilds: Rebuild[];
  lives: LifeBegun[];
};
