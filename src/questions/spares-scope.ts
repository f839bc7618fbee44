import type { WhatIfChanges } from "../workspace/what-if.ts";
import type { Scope } from "./scope.ts";
import type { ReplaceCosts } from "./spares-costs.ts";

/** What `spares` is asked. */
export type SparesQuestion = Pick<Scope, "fleet" | "clock" | "level"> & {
  /** Months ahead. */
  horizon: number;
  /** Chance of no shortage; the workspace's where not given. */
  service?: number;
  /** Lead time, days, of parts whose own is not known; the workspace's where not given. */
  leadTime?: number;
  draws: number;
  seed: number;
  /** Stock in place of the records'. */
  stock?: ShelfList;
  /** Asks for planned ages: the costs to weigh, the workspace's where it is "own". */
  replace?: ReplaceCosts | "own";
  /** Asks for the forecast were something otherwise. */
  whatIf?: WhatIfChanges;
};

/** Pieces on their way, and the day on which they are due; null where none is named. */
export type Due = { on: string | null; pieces: number };

/** A part as a list of stock and parts has it. */
export type ShelfPart = {
  title: string | null;
  onHand: number | null;
  onOrder: number | null;
  dueOn: string | null;
  /** What is on order, where it comes on several days; null: all of it on `dueOn`. */
  due: Due[] | null;
  countedOn: string | null;
  price: number | null;
  currency: string | null;
  leadTime: number | null;
  leadTimeLow: number | null;
  leadTimeHigh: number | null;
  packSize: number | null;
  minimumOrder: number | null;
  replacedBy: string | null;
};

/** Parts by number, and what the list is called. */
export type ShelfList = { from: string; parts: Map<string, ShelfPart> };
