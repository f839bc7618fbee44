import * as z from "zod";
import { Name } from "../workspace/configuration.ts";

const share = z.number("a share lies between 0 and 1").min(0).max(1);
const range = z
  .tuple([z.int().min(0), z.int().min(0)])
  .refine(([low, high]) => low <= high, "a range is written [low, high], in days");

const Site = z.strictObject({
  name: z.string().min(1),
  surroundings: z.enum(["clean", "dirty"]),
  positions: z.int().min(1),
});

/** A position that shortens the lives in some slots of any frame that runs there. */
const Offender = z.strictObject({
  position: z.string().min(1),
  slots: z.array(Name).min(1),
  life: z.number().positive("a factor on life is above 0"),
  /** Most of its failures of this slot show this damage mode. */
  shows: z.strictObject({ slot: Name, mode: z.string(), share }).optional(),
});

/** One fleet: its places, its frames, how they are run and looked after, and whose export format tells of it. */
export const FleetPlan = z
  .strictObject({
    name: Name,
    /** wide_thou, long_mm, wide_inch: three owners' ways; plain: complete and clean. */
    format: z.enum(["wide_thou", "long_mm", "wide_inch", "plain"]),
    units: z.int().min(1),
    unit_prefix: z.string(),
    /** Share of the units that are in use before the records begin. */
    early_units: share,
    /** Days from the records' beginning in which the other units are bought. */
    bought_within_days: z.int().min(1),
    /** Share of the early units whose last rebuild before the records is known. */
    last_rebuild_known: share,
    models: z
      .array(z.strictObject({ name: z.string(), speed_rpm: z.number().positive(), share: z.number().positive() }))
      .min(1),
    /** Share of the units that are built for oil bath; the others are greased. */
    oil_bath: share,
    /** How often the store hands out a frame with the lube that suits the place (oil bath where it is clean) and not the one that waited longest. */
    lube_matched: share,
    position_prefix: z.string(),
    sites: z.array(Site).min(1),
    offenders: z.array(Offender).default([]),
    hours_a_day: z.strictObject({
      mean: z.number().positive(),
      log_sd: z.number().min(0),
      most: z.number().positive().max(24),
    }),
    idle: z.strictObject({ spells_a_year: z.number().min(0), days: range }),
    days_to_shop: range,
    days_in_shop: range,
    days_to_install: range,
    /** Running hours after which a frame is taken out although it runs well. */
    planned_after_hours: z.strictObject({ mean: z.number().positive(), sd: z.number().min(0) }).optional(),
    /** A yearly stop at which some running frames are taken out since it is easy. */
    yearly_stop: z.strictObject({ month: z.int().min(1).max(12), share }).optional(),
    /** Share of the planned rebuilds of greased frames that change them to oil bath. */
    converted: share.default(0),
    retired_a_year: share,
    meter: z.strictObject({ changes: z.int().min(0), stuck: z.int().min(0), rollovers: z.int().min(0) }),
  })
  .superRefine((fleet, context) => {
    const count = fleet.sites.reduce((sum, site) => sum + site.positions, 0);
    if (count > fleet.units) {
      context.addIssue({
        code: "custom",
        path: ["units"],
        message: `${fleet.units} units can't fill ${count} positions; give more units`,
      });
    }
    if (fleet.format === "wide_inch" && fleet.meter.stuck > 0) {
      context.addIssue({
        code: "custom",
        path: ["meter", "stuck"],
        message: "wide_inch records have no meter rounds, at which a stuck meter is seen to; give 0",
      });
    }
    fleet.offenders.forEach(({ position }, index) => {
      const number = Number(position.slice(fleet.position_prefix.length));
      if (!position.startsWith(fleet.position_prefix) || !(number >= 1 && number <= count)) {
        context.addIssue({
          code: "custom",
          path: ["offenders", index, "position"],
          message: `there is no position "${position}"; they run from ${fleet.position_prefix}01 to ${fleet.position_prefix}${count}`,
        });
      }
    });
  });

export type FleetPlan = z.output<typeof FleetPlan>;
