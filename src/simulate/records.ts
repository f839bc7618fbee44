import type { Lube } from "./history.ts";

/** What a card says of one slot; null where it says nothing. */
export type SlotRecord = {
  condition: "failed" | "worn" | "serviceable" | "not_inspected" | null;
  mode: string | null;
  fitted: boolean | null;
  part: string | null;
  batch: string | null;
};

export type Reason = "failure" | "planned" | "opportunity" | "modification" | "unknown";

/** A job card as its writer knew it: days as day numbers, lengths in thou, temperatures in degrees F, meters in hours as shown. */
export type CardRecord = {
  number: number;
  unit: string;
  model: string;
  speedRpm: number;
  /** Where it ran before, and where it went; the latter null while it is in the shop or on the shelf. */
  fromSite: string;
  fromPosition: string;
  toSite: string | null;
  toPosition: string | null;
  removedOn: number;
  receivedOn: number;
  builtOn: number | null;
  installedOn: number | null;
  hoursRemoved: number;
  hoursInstalled: number | null;
  reason: Reason;
  failedSlot: string | null;
  lube: Lube | null;
  sealArrangement: string | null;
  endPlayThou: number | null;
  endPlayFoundThou: number;
  shimsThou: number | null;
  /** Read without shims: the play, or race depth and spigot height. */
  unshimmedThou: number | null;
  raceDepthThou: number | null;
  spigotHeightThou: number | null;
  ringTemperatureF: number | null;
  fitter: string | null;
  slots: Map<string, SlotRecord>;
};

export type UnitRecord = {
  unit: string;
  model: string;
  speedRpm: number;
  /** Where it ran when the records began, or where it was first put in service. */
  site: string;
  position: string;
  commissionedOn: number;
  lastRebuiltOn: number | null;
  listedOn: number | null;
};

export type ReadingRecord = { unit: string; readOn: number; hours: number; oldMeterHours: number | null };

export type RetirementRecord = { unit: string; retiredOn: number; cause: string };

/** The records of a fleet before they are written in an owner's way. */
export type FleetRecords = {
  cards: CardRecord[];
  /** Cards as they were first written, where a later export corrects them; by number. */
  firstWritten: Map<number, CardRecord>;
  /** Packs that a card tells wrong, and no later export corrects. */
  wrongShims: WrongShims[];
  units: UnitRecord[];
  readings: ReadingRecord[];
  retirements: RetirementRecord[];
  meterFaults: MeterFault[];
};

/** A card, the pack that it tells, and the one that went in; thou. */
type WrongShims = { number: number; written: number; fitted: number };

/** What a meter did that a record must be read with care for. */
export type MeterFault = { unit: string; kind: "change" | "stuck" | "rollover"; from: number; to: number | null };
