import type { FamilyName } from "../stats/distribution/family.ts";
import type { Configuration } from "../workspace/configuration.ts";
import type { By, Clock } from "./answer.ts";
import type { IntervalMethod } from "./life-answer.ts";

/** Which records a question looks at, and how certain its limits are. */
export type Scope = {
  fleet?: string;
  slot?: string;
  /** Columns that make the groups, beside fleet and slot where those aren't fixed. */
  by: string[];
  /** A condition on the columns of the lives, in SQL. */
  where?: string;
  clock: Clock;
  level: number;
};

/** What `life` is asked. */
export type LifeQuestion = Scope & {
  /** How limits are found; as the lives need it where not given. */
  interval?: IntervalMethod;
  distribution: FamilyName;
  /** Weibull shape taken as known. */
  shape?: number;
  /** Fractions failed of which the age is asked, beside the usual ones. */
  quantiles: number[];
  /** Ages at which survival is asked; of running lives, how much further. */
  mission: number[];
  /** Damage modes apart. */
  modes: boolean;
  /** Against the catalogue. */
  rating: boolean;
  /** Groups borrow from each other. */
  pool: boolean;
  /** Whether to look how well the law fits, and at other laws. */
  checks: boolean;
  /** Whether to draw each group's curves and points: a table of very many groups has no room for them. */
  curves: boolean;
  seed: number;
};

/** What every random draw of a report starts from. */
export const REPORT_SEED = 1;

/** A question of `life` that asks for nothing beyond the usual. */
export function plainLifeQuestion(scope: Scope): LifeQuestion {
  return {
    ...scope,
    distribution: "weibull",
    quantiles: [],
    mission: [],
    modes: false,
    rating: false,
    pool: false,
    checks: false,
    curves: true,
    seed: REPORT_SEED,
  };
}

/** What `intervals` is asked: which rebuilds count as the event, all of them, those for failure, or planned ones. */
export type IntervalsQuestion = Scope & { events: "all" | "failure" | "planned"; seed: number };

/** What `offenders` is asked; `by` holds no further columns. */
export type OffendersQuestion = Scope & { kind: "unit" | "position" | "model" | "site" | "batch"; seed: number };

/** Whether components are looked at rather than frames. */
export function isOfLives({ kind, slot }: Pick<OffendersQuestion, "kind" | "slot">): boolean {
  return slot !== undefined || kind === "batch";
}

/** What `compare` is asked; `by` holds no columns. */
export type CompareQuestion = Scope & {
  /** The column whose effect is asked. */
  effect: string;
  /** Edges between bands of a measured value. */
  bands?: number[];
  /** Columns to hold alike; the usual ones of a workspace where not given. */
  adjust?: string[];
  /** Accelerated lives, or proportional hazards; of these, columns within whose values alone lives are compared. */
  model: "aft" | "ph";
  stratify?: string[];
  /** Standard deviation of the gauge, in the unit of the readings. */
  gaugeSd?: number;
  /** Where that figure comes from, as the workspace says. */
  gaugeSource?: string;
  /** A straight line instead of a curve. */
  straight: boolean;
  /** The level that others are held against. */
  reference?: string;
  /** The two values whose lives are set against each other. */
  contrast?: [number, number];
  /** The ratio of lives that would matter, above 1. */
  matters: number;
  /** What is left out in turn to tell how certain figures are. */
  cluster?: "unit" | "position";
  seed: number;
  /** Of the bands no more than pages say. */
  brief?: true;
};

/** What a plain table was read from, in place of a workspace. */
type PlainTable = { path: string; columns: Record<string, string> };

/** Where the lives of an answer come from: a workspace at an as-of date, or a plain table. */
export type Source =
  | {
      kind: "workspace";
      configuration: Configuration;
      asOf: string;
      latestOn: string;
      /** Its folder, where the command named one: commands that an answer tells of must name it too. */
      folder?: string;
    }
  | { kind: "table"; table: PlainTable };

/** The name of a group for people: "Drive-end bearings at Saltmere drainage stations". */
export function groupTitle(by: By, source: Source): string {
  const { fleet, slot, ...others } = by;
  const rest = Object.entries(others).map(([column, value]) => `${column.replaceAll("_", " ")} ${value}`);
  const title = [slotTitle(slot, source), fleetTitle(fleet, source)].filter((part) => part !== undefined).join(" at ");
  return [title, ...rest].filter((part) => part !== "").join(", ") || "All lives";
}

function slotTitle(slot: string | undefined, source: Source): string | undefined {
  if (slot === undefined) return undefined;
  return (source.kind === "workspace" && source.configuration.slots[slot]?.title) || slot;
}

function fleetTitle(fleet: string | undefined, source: Source): string | undefined {
  if (fleet === undefined) return undefined;
  const known =
    source.kind === "workspace" ? source.configuration.fleets.find(({ name }) => name === fleet) : undefined;
  return known?.title ?? fleet;
}

const LONG_AFTER_DAYS = 90;

/** What to be careful of in the source itself: an as-of date long after all records, up to which running units are followed. */
export function sourceWarnings(source: Source): string[] {
  if (source.kind === "table") return [];
  const days = (Date.parse(source.asOf) - Date.parse(source.latestOn)) / 86_400_000;
  if (days <= LONG_AFTER_DAYS) return [];
  return [
    `the as-of date lies ${days} days after the latest record (${source.latestOn}): nothing shows what happened between, and units with no list or meter round are followed through it`,
  ];
}
