import * as z from "zod";
import { Bearings, misnamedBearings } from "./bearing-data.ts";
import { isDay } from "./day.ts";
import { LENGTH_UNITS } from "./lengths.ts";
import { RULES, type RuleName, type Severity } from "./rules.ts";
import { Costs, Kits, misnamedKits, StockPolicy } from "./stock-policy.ts";

/** Words usable as names of fleets, slots and pipelines: they become identifiers in answers and file names of pages. */
export const Name = z
  .string()
  .regex(
    /^[a-z][a-z0-9_-]*$/,
    "a name is lower-case letters, digits, _ and -, and begins with a letter; put the words for people under title",
  );

export const IsoDate = z
  .string()
  .regex(/^\d{4}-\d{2}-\d{2}$/, "a date is written YYYY-MM-DD")
  .refine(isDay, "there is no such day");

const LengthUnit = z.enum(LENGTH_UNITS);
const TemperatureUnit = z.enum(["C", "F"]);

const Fleet = z.strictObject({
  name: Name,
  title: z.string().min(1),
  /** First day from which every rebuild of the fleet is on record; lives that began before it are left-truncated or left out. */
  records_begin: IsoDate.optional(),
});

const Slot = z.strictObject({
  title: z.string().min(1),
  quantity: z.int("quantity is a whole number of pieces").min(1),
  kind: z.enum(["bearing", "seal", "other"]),
});

const Window = z
  .strictObject({
    low: z.number(),
    high: z.number(),
    unit: LengthUnit,
    source: z.string().min(1, "name where the window comes from: a maker's manual and page, or common practice"),
  })
  .refine(({ low, high }) => low < high, { message: "low must lie below high", path: ["low"] });

const Gauge = z.strictObject({
  /** Standard deviation of one reading. */
  sd: z.number().positive("a standard deviation is above 0"),
  unit: LengthUnit,
  source: z
    .string()
    .min(1, 'name where the figure comes from: a study by "framelife gauge", or the gauge\'s certificate'),
});

const EDGES = "give the edges between bands as a list of numbers, or as { edges: [2, 3.5, 5.5, 7], unit: thou }";

const Edges = z
  .union([z.array(z.number()).min(1), z.strictObject({ edges: z.array(z.number()).min(1), unit: LengthUnit })], EDGES)
  .superRefine((named, context) => {
    const [edges, path] = Array.isArray(named) ? [named, []] : [named.edges, ["edges"]];
    const at = edges.findIndex((edge, place) => place > 0 && edge <= edges[place - 1]!);
    if (at < 0) return;
    const message = `${edges[at]} stands after ${edges[at - 1]}; write the edges in rising order, each once`;
    context.addIssue({ code: "custom", path: [...path, at], message });
  });

const PlannedRebuild = z.strictObject({
  unit: z.string().min(1),
  /** Where more than one fleet has a unit of that number. */
  fleet: Name.optional(),
  on: IsoDate,
});

const ruleNames = Object.keys(RULES) as RuleName[];

/** Other severities for checks of the exports than their own. */
const ChosenRules = z
  .record(z.string(), z.enum(["quarantine", "refuse", "fix", "warn"]))
  .superRefine((chosen, context) => {
    for (const [name, severity] of Object.entries(chosen)) {
      const message = ruleFault(name, severity);
      if (message !== undefined) context.addIssue({ code: "custom", path: [name], message });
    }
  });

function ruleFault(name: string, severity: Severity): string | undefined {
  const rule = ruleNames.find((known) => known === name);
  if (rule === undefined) return `there is no rule "${name}"; rules are ${ruleNames.join(", ")}`;
  const may: readonly Severity[] = RULES[rule].may;
  return may.includes(severity) ? undefined : `${name} can't be "${severity}"; it can be ${may.join(", ")}`;
}

/** What `framelife.yaml` may say. Keys that are not known are refused, so that a typing error can't pass unseen. */
export const Configuration = z
  .strictObject({
    title: z.string().min(1),
    store: z.string().min(1).default("store/framelife.duckdb"),
    as_of: IsoDate.optional(),
    clock: z.enum(["hours", "days"]).default("hours"),
    display: z
      .strictObject({ length: LengthUnit.default("thou"), temperature: TemperatureUnit.default("F") })
      .prefault({}),
    fleets: z.array(Fleet).min(1, "name at least one fleet"),
    slots: z.record(Name, Slot).refine((slots) => Object.keys(slots).length > 0, "name at least one slot"),
    windows: z.strictObject({ end_play: Window.optional() }).prefault({}),
    /** How far readings stray by the gauge alone. */
    gauges: z.strictObject({ end_play: Gauge.optional() }).prefault({}),
    /** What shims do to the end play: between spigot and race they take it up, under the flange of the bracket they add to it. */
    shims: z.enum(["take_up", "add"], "shims take up the end play (take_up) or add to it (add)").default("take_up"),
    /** Catalogue data, loads and running conditions of the bearings, by slot; for "life --rating". */
    bearings: Bearings,
    /** Parts that a slot takes when it is renewed, and what every opened frame takes; for "spares". */
    kits: Kits,
    stock_policy: StockPolicy,
    costs: Costs.optional(),
    /** Frames that are to be opened on a day, outages for instance; a forecast takes them beside what comes by itself. */
    planned_rebuilds: z.array(PlannedRebuild).default([]),
    /** Edges between bands of as-built end play, in `display.length` where no unit stands beside them. */
    bands: z.strictObject({ end_play: Edges.optional() }).prefault({}),
    failed_when: z.array(z.enum(["failed", "worn"])).default(["failed"]),
    /** Failures found at a teardown that they did not cause lie somewhere between the last inspection and that teardown. */
    hidden_until_opened: z.boolean().default(false),
    comeback_days: z.int().min(1).default(90),
    quarantine_limit: z.number().min(0).max(1, "the limit is a share of rows, 0 to 1").default(0.05),
    /** What checks of the exports do, where not what they do by themselves. */
    rules: ChosenRules.default({}),
    pipelines: z.array(z.string().min(1)).min(1, "name at least one pipeline"),
    /** Folders outside the workspace from which pipelines may read; else none. */
    read_from: z.array(z.string().min(1)).default([]),
    rollover_at: z.number().positive().default(100_000),
  })
  .superRefine((configuration, context) => {
    const names = configuration.fleets.map((fleet) => fleet.name);
    names.forEach((name, index) => {
      if (names.indexOf(name) !== index) {
        context.addIssue({
          code: "custom",
          path: ["fleets", index, "name"],
          message: `fleet "${name}" stands twice; give each fleet its own name`,
        });
      }
    });
    const { bearings, kits, slots, fleets } = configuration;
    for (const { path, message } of [
      ...misnamedBearings(bearings, slots, fleets),
      ...misnamedKits(kits, slots, fleets),
    ]) {
      context.addIssue({ code: "custom", path, message });
    }
  });

export type Configuration = z.output<typeof Configuration>;
