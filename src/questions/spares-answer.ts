import type { Answer, Clock } from "./answer.ts";
import type { Estimate } from "./estimate.ts";
import type { SparesBacktest } from "./spares-backtest-answer.ts";
import type { Due } from "./spares-scope.ts";

/** What a forecast rests on: units that it is reckoned for, and the lives behind its laws. */
export type SparesBasis = {
  units: number;
  lives: number;
  failed: number;
  leftOut: Record<string, number>;
};

/** Use of a part in one month; `soFar` sums from now on. Limits are those of the use itself, not of its mean. */
export type MonthUse = {
  month: string;
  expected: Estimate;
  soFar: Estimate;
  /** Of the sum from now on: its median, and the range that holds it four times in five. */
  median: number;
  inner: { low: number; high: number };
};

/** What lies on the shelf and is on its way. */
export type PartStock = {
  onHand: number;
  onOrder: number;
  /** The first day on which any of it is due; and all of it by day, null where none is named. */
  dueOn: string | null;
  due: Due[];
  countedOn: string | null;
  /** From the records, or from the file that was named. */
  from: string;
};

export type LeadTime = {
  days: number;
  low: number | null;
  high: number | null;
  /** Whose figure it is. */
  from: "part" | "workspace" | "option";
};

/** How one part stands. Pieces are whole; null with a reason where a stock, a lead time or a price is not known. */
export type SparesPart = {
  part: string;
  title: string | null;
  /** Slots that it goes into, `frame` for every opening, with pieces at a time. */
  goesInto: { slot: string; quantity: number }[];
  /** Pieces used over the horizon. */
  expected: Estimate;
  byMonth: MonthUse[];
  quantiles: { p: number; pieces: number }[];
  /** Past use and the forecast of it alone, beside. */
  past: PastUse | null;
  stock: PartStock | null;
  leadTime: LeadTime | null;
  /** On hand, and on its way to arrive within the lead time: what the chances below are reckoned with. */
  position: number | null;
  /** Chance of no shortage until what is ordered at the next look arrives, with what is on hand and on order. */
  noShortage: number | null;
  /** Share of the demand of that time that is met from the shelf. */
  fillRate: number | null;
  /** Chance that a piece is there when it is asked for. */
  readyRate: number | null;
  /** Smallest stock with the chance of no shortage asked for, over lead time and review. */
  reorderPoint: number | null;
  /** Last day to order without falling below that chance; the as-of date where it has passed; null where the horizon is reached first. */
  orderBy: string | null;
  orderNow: boolean | null;
  /** Pieces to order now or then, in whole packs. */
  orderQuantity: number | null;
  /** Chance of a shortage over lead time and review by the stock held. */
  stockOutRisk: { stock: number; risk: number }[];
  /** Stock for the same chance where each fleet keeps its own. */
  apart: number | null;
  /** Used once a year or less. */
  slowMover: boolean;
  cost: { price: number; currency: string | null; use: Estimate; order: number } | null;
  /** Whether to hold one of a slow mover at all: cost of a year without it against holding it. */
  worthHolding: { without: number; holding: number; worth: boolean } | null;
  reasons: string[];
};

/** Use in the past, and the use over the horizon if the future were like it. */
export type PastUse = {
  months: number;
  pieces: number;
  perYear: number;
  forecast: Estimate;
  /** Variance over mean of the months' counts, and whether it is over 1 beyond chance. */
  dispersion: number | null;
  /** Whether this forecast and the one from lives are further apart than chance makes likely. */
  disagrees: boolean;
};

/** Law of a slot in a fleet that the forecast uses. */
export type SparesLaw = {
  fleet: string;
  slot: string;
  shape: number;
  /** Null where it never fails by itself. */
  scale: number | null;
  failed: number;
  /** Where it comes from: the fleet's own lives; those of all fleets; these with what is usual, where they have few failures. */
  from: "fleet" | "all fleets" | "few failures";
  /** Chance of a new component when the frame opens for another reason. */
  renewed: number;
};

/** Whether to rebuild at a planned age, for one slot of one fleet or for its frames as wholes. */
export type PlannedAge = {
  fleet: string;
  /** `frame`: the whole, with the slots that every rebuild renews. */
  slot: string;
  /** Null of whole frames. */
  shape: number | null;
  failed: number;
  /** Whether planning saves credibly; if not, `reason` says why. */
  worth: boolean;
  reason?: string;
  /** The age that costs least, on the clock; and what it saves of the cost of waiting for the failure, as a share and in money a year. */
  age: number | null;
  saving: Estimate | null;
  aYear: Estimate | null;
  chanceOfSaving: number | null;
  /** Limits of the best age. */
  bestAge: { low: number; high: number } | null;
  /** Cost of a unit of running by the planned age. */
  curve: { age: number; rate: number }[];
};

export type PlannedAges = {
  costs: { planned: number; unplanned: number; currency: string | null; source: string };
  rows: PlannedAge[];
};

/** The forecast were something changed, beside the present one. */
export type WhatIf = {
  /** The changes, in words, and what could not be told. */
  changes: string[];
  warnings: string[];
  openings: Estimate;
  parts: {
    part: string;
    expected: Estimate;
    reorderPoint: number | null;
    orderNow: boolean | null;
    orderQuantity: number | null;
  }[];
};

export type SparesAnswer = Omit<Answer, "basis"> & {
  command: "spares";
  clock: Clock;
  basis: SparesBasis;
  /** Months ahead, chance of no shortage asked for, draws and seed. */
  horizon: number;
  service: number;
  reviewDays: number;
  draws: number;
  seed: number;
  /** Frames opened over the horizon, and the ready frames that an exchange needs. */
  openings: Estimate;
  exchange: { turnaroundDays: number; openingsAMonth: number; frames: number } | null;
  parts: SparesPart[];
  laws: SparesLaw[];
  /** Null where not asked for. */
  backtest: SparesBacktest | null;
  replace: PlannedAges | null;
  whatIf: WhatIf | null;
};
