import * as z from "zod";
import { LONGEST_LEAD } from "./longest-lead.ts";
import { readYamlFile } from "./yaml-file.ts";

const factor = z
  .number("duty is a factor: 1.2 is a fifth more")
  .positive("duty is above 0")
  .max(10, "duty is a factor of at most 10");
const days = z
  .number("a lead time is a number of days")
  .min(0, "a lead time is 0 days or more")
  .max(LONGEST_LEAD, `a lead time is ${LONGEST_LEAD.toLocaleString("en-US")} days at most`);

const WhatIfFile = z
  .strictObject({
    /** Frames that come, new, or go, by fleet. */
    frames: z
      .record(
        z.string(),
        z
          .int("frames are a whole number, below 0 of those that go")
          .min(-10_000)
          .max(10_000, "frames are 10,000 more at most"),
      )
      .optional(),
    /** Running time by so many times, of all fleets or by fleet. */
    duty: z
      .union([factor, z.record(z.string(), factor)], "duty is a factor above 0, as 1.2, or one for each fleet")
      .optional(),
    /** Frames built to this end play, in the unit in which the workspace shows lengths. */
    end_play: z.number().positive("end_play is above 0").optional(),
    /** All frames with this lube. */
    lube: z.enum(["oil_bath", "grease"]).optional(),
    /** Lead time in days, of all parts or by part. */
    lead_time_days: z
      .union([days, z.record(z.string(), days)], "lead_time_days is a number of days, or one for each part")
      .optional(),
    /** Frames rebuilt at this age on the clock, if they have not failed before. */
    planned_age: z.number().min(24, "planned_age is 24 or more, hours or days as the clock counts").optional(),
  })
  .refine((changes) => Object.keys(changes).length > 0, {
    message: "name a change: frames, duty, end_play, lube, lead_time_days or planned_age",
  });

/** What is to be otherwise in a forecast. */
export type WhatIfChanges = z.output<typeof WhatIfFile>;

/** Reads a file of changes; a fault is named with its line. */
export function readWhatIf(path: string): WhatIfChanges {
  return readYamlFile(path, WhatIfFile, "the changes");
}
