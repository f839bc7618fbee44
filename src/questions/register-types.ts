import type { BuildEnd } from "./dossier-types.ts";

/** A frame on record, and how it stands. Dates as YYYY-MM-DD, "" where not known. */
export type RegisteredFrame = {
  id: string;
  models: string;
  builds: number;
  failures: number;
  /** Day on which it was last taken out. */
  lastOut: string;
  /** Of its latest build; `followedTo` is how far that is followed. */
  position: string;
  since: string;
  followedTo: string;
  /** Its latest build has not ended, and the frame is in use. */
  runs: boolean;
  /** Nothing on record shows that it still runs. */
  assumedRunning: boolean;
  retiredOn: string;
};

/** A position on record, and the build there that began last. */
export type RegisteredPosition = {
  id: string;
  frames: number;
  builds: number;
  failures: number;
  unit: string;
  since: string;
  followedTo: string;
  runs: boolean;
};

/** What had failed, was worn or damaged when a build ended; "" where the card does not say. */
export type BadPart = { slot: string; condition: string; damageMode: string };

/** One build, shortly. Texts are "" and numbers null where not on record. */
export type RegisteredBuild = {
  /** Names it for "framelife trace". */
  id: string;
  unit: string;
  number: number;
  position: string;
  start: string;
  stop: string;
  ends: BuildEnd;
  assumedRunning: boolean;
  /** It ran until the frame was taken out of use. */
  retired: boolean;
  failedSlot: string;
  found: BadPart[];
  endPlay: number | null;
  lube: string;
  /** File and row of its start, and of its end, each as "framelife trace" takes it. */
  startSource: string;
  stopSource: string;
};

/** The builds of one fleet, by frame and by position, made as they are asked for. */
export type BuildsOfFleet = {
  ofFrame: (unit: string) => RegisteredBuild[];
  ofPosition: (position: string) => RegisteredBuild[];
};

/** Every frame and position of one fleet, in the order of their names. */
export type FleetRegister = {
  frames: RegisteredFrame[];
  positions: RegisteredPosition[];
  /** How many builds are on record. */
  builds: number;
  /** Null where they are more than pages have room for. */
  history: BuildsOfFleet | null;
};
