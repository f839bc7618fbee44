import * as z from "zod";
import { LONGEST_LEAD } from "./longest-lead.ts";
import { WHOLE_FRAME } from "./whole-frame.ts";

const Line = z.strictObject({
  part: z.string().min(1, "name the part as the stock list does"),
  quantity: z.int("quantity is a whole number of pieces").min(1).default(1),
  /** Only for these models or fleets; for all where not given. */
  models: z.array(z.string().min(1)).min(1).optional(),
  fleets: z.array(z.string().min(1)).min(1).optional(),
});
export type KitLine = z.output<typeof Line>;

/** Parts that a slot takes when it is renewed, by slot; under `frame` what every opened frame takes. */
export const Kits = z.record(z.string(), z.array(Line).min(1)).default({});
export type Kits = z.output<typeof Kits>;

const days = (name: string) =>
  z
    .number(`${name} is a number of days, 0 or more`)
    .min(0, `${name} is 0 days or more`)
    .max(LONGEST_LEAD, `${name} is ${LONGEST_LEAD.toLocaleString("en-US")} days at most`);

/** How the shelf is kept. */
export const StockPolicy = z
  .strictObject({
    /** Chance of no shortage from one order to the arrival of the next. */
    service: z.number().gt(0.5, "service is a chance above 0.5").lt(1, "service is a chance below 1").default(0.95),
    /** Days between looks at the shelf. */
    review_days: days("review_days").default(30),
    /** Lead time of parts whose own is on no list. */
    lead_time_days: days("lead_time_days").optional(),
  })
  .prefault({});

const money = (name: string) => z.number(`${name} is an amount of money above 0`).positive(`${name} is above 0`);

/** What a rebuild costs; for planned ages, in one currency. */
export const Costs = z
  .strictObject({
    /** One rebuild at a time of one's choosing, and one after a failure with all that it brings. */
    planned_rebuild: money("planned_rebuild"),
    unplanned_rebuild: money("unplanned_rebuild"),
    currency: z.string().min(1),
    /** Cost of holding a piece for a year, as a share of its price. */
    holding: z.number().min(0).max(1, "holding is a share of the price, 0 to 1").default(0.2),
    /** What a day costs on which a frame waits for a part; for parts that are hardly ever used. */
    downtime_a_day: money("downtime_a_day").optional(),
    source: z.string().min(1, "say where the amounts come from"),
  })
  .refine(({ planned_rebuild: planned, unplanned_rebuild: unplanned }) => unplanned > planned, {
    message: "a rebuild after a failure must cost more than a planned one; else there is nothing to gain by planning",
    path: ["unplanned_rebuild"],
  });
export type Costs = z.output<typeof Costs>;

/** Kit lines for slots or fleets that there are none of, with what to do. */
export function misnamedKits(
  kits: Kits,
  slots: Record<string, unknown>,
  fleets: { name: string }[],
): { path: (string | number)[]; message: string }[] {
  const known = [...Object.keys(slots), WHOLE_FRAME];
  const names = fleets.map(({ name }) => name);
  return Object.entries(kits).flatMap(([slot, lines]) => [
    ...(known.includes(slot)
      ? []
      : [{ path: ["kits", slot], message: `there is no slot "${slot}"; kits are for ${known.join(", ")}` }]),
    ...lines.flatMap(({ fleets: own = [] }, at) =>
      own
        .filter((fleet) => !names.includes(fleet))
        .map((fleet) => ({
          path: ["kits", slot, at, "fleets"],
          message: `there is no fleet "${fleet}"; fleets are ${names.join(", ")}`,
        })),
    ),
  ]);
}
