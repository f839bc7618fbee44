import * as z from "zod";
import { IsoDate, Name } from "../workspace/configuration.ts";

const pieces = z.int("pieces are whole").min(0, "pieces are 0 or more");
const days = z.int("a lead time is whole days").min(0);

const Count = z.strictObject({ on_hand: pieces, on_order: pieces.optional(), due_on: IsoDate.optional() });

const LeadDays = z
  .strictObject({ usual: days, shortest: days, longest: days })
  .refine(
    ({ usual, shortest, longest }) => shortest <= usual && usual <= longest,
    "a lead time stands in the order shortest, usual, longest",
  );

const Part = z.strictObject({
  part: z.string().min(1),
  title: z.string().min(1),
  /** Where it goes, if into one slot alone. */
  slot: Name.optional(),
  price: z.number().positive("a price is above 0").optional(),
  /** Left out where nobody has asked the supplier. */
  lead_days: LeadDays.optional(),
  pack: z.int().min(1).optional(),
  minimum: z.int().min(1).optional(),
  replaced_by: z.string().optional(),
  /** By place, one for each count. */
  stock: z.record(z.string().min(1), z.array(Count)).default({}),
});
export type PartPlan = z.output<typeof Part>;

/** The shop's own lists: what it buys, and what lay on its shelves when they were counted. */
export const PartsPlan = z
  .strictObject({
    /** Below `exports`. */
    folder: Name,
    currency: z.string().min(1),
    counted_on: z.array(IsoDate).min(1, "name the day of one count at least"),
    list: z.array(Part).min(1, "name at least one part"),
  })
  .superRefine(({ counted_on, list }, context) => {
    const names = list.map(({ part }) => part);
    list.forEach(({ part, replaced_by, stock }, at) => {
      const fault = (key: string, message: string) =>
        context.addIssue({ code: "custom", path: ["list", at, key], message });
      if (names.indexOf(part) !== at) fault("part", `part "${part}" stands twice; give each part one line`);
      if (replaced_by !== undefined && !names.includes(replaced_by))
        fault("replaced_by", `there is no part "${replaced_by}" on the list; add it`);
      for (const [place, counts] of Object.entries(stock)) {
        if (counts.length !== counted_on.length)
          fault("stock", `${place} has ${counts.length} counts where the days of ${counted_on.length} are named`);
      }
    });
  });
export type PartsPlan = z.output<typeof PartsPlan>;
