import * as z from "zod";
import { IsoDate, Name } from "../workspace/configuration.ts";
import { FleetPlan } from "./fleet-plan.ts";
import { PartsPlan } from "./parts-plan.ts";

const share = z.number("a share lies between 0 and 1").min(0).max(1);
const factor = z.number().positive("a factor on life is above 0");
const slots = z.array(Name).min(1);

/** The law of one slot's life, at every factor 1, in running hours. */
const SlotPlan = z.strictObject({
  shape: z.number().positive("a Weibull shape is above 0"),
  scale: z.number().positive("a Weibull scale is above 0"),
  /** Renewed whenever the frame is open. */
  kit: z.boolean().default(true),
  /** Outside the kit: the share of openings at which an unfailed one is renewed all the same, whatever its state. */
  renewed: share.default(0),
  /** What the stores call the piece. */
  part: z.string().optional(),
  /** Damage modes of a failed one, with their shares. */
  modes: z
    .record(z.string(), z.number().positive())
    .refine((modes) => Object.keys(modes).length > 0, "name at least one damage mode"),
});

const Effects = z.strictObject({
  /** life x exp(-tight (best - e)^2) below the best end play e, x exp(-slack (e - best)^2) above it; e in thou as truly built. */
  end_play: z
    .strictObject({ slots, best_thou: z.number(), tight: z.number().min(0), slack: z.number().min(0) })
    .optional(),
  lube: z.strictObject({ slots, life: z.strictObject({ oil_bath: factor, grease: factor }) }).optional(),
  surroundings: z.strictObject({ slots, life: z.strictObject({ clean: factor, dirty: factor }) }).optional(),
  /** Seals come in batches, each used by the whole shop for `days_each` days; one of them is bad. */
  batch: z
    .strictObject({
      slots,
      prefix: z.string(),
      days_each: z.int().min(1),
      bad: z.strictObject({ batch: z.string(), life: factor }),
    })
    .optional(),
  /** Standard deviation of log life between units, one draw a unit over all its slots. */
  unit_sd: z.number().min(0).default(0),
});

/** How frames are built and measured, in thou and degrees F. */
const Bench = z.strictObject({
  end_play_mean: z.number(),
  end_play_sd: z.number().min(0),
  gauge_sd: z.number().min(0),
  fitters: z.int().min(1),
  /** Between fitters, of what they set. */
  fitter_sd: z.number().min(0),
  /** Share of builds whose card repeats the target instead of a reading. */
  copied: share,
  copied_as: z.number(),
});

/** Shares of what the cards leave out or get wrong by the pen, and how rows are spoilt on the way to the export. */
const Records = z.strictObject({
  end_play_missing: share,
  /** Of what was read before the shims went in, each value. */
  unshimmed_missing: share.default(0),
  /** Packs of shims written some thou too thick or too thin. */
  shims_wrong: share.default(0),
  installed_missing: share,
  reason_unknown: share,
  /** How often the reason on a failed frame's card names the slot, and does not just say that the frame failed. */
  reason_names_slot: share,
  mode_missing: share,
  condition_missing: share,
  condition_not_inspected: share,
  readings_missed: share,
  corrected_cards: z.int().min(0),
  /** Per file, as a share of its rows; at least one of each where the share is above 0 and the file has rows enough. */
  faults: z.strictObject({
    blank_line: share,
    repeated_header: share,
    duplicate_row: share,
    bad_date: share,
    wrong_order: share,
    unknown_word: share,
    foreign_unit: share,
    own_unit: share,
    extra_cell: share,
    stray_blanks: share,
    lost_cell: share,
  }),
});

/** A fleet's declared truth: what `simulate` draws from, and how the records of it are written. */
export const Scenario = z
  .strictObject({
    title: z.string().min(1),
    seed: z.int(),
    begins: IsoDate,
    records_begin: IsoDate,
    as_of: IsoDate,
    slots: z.record(Name, SlotPlan).refine((named) => Object.keys(named).length > 0, "name at least one slot"),
    effects: Effects.prefault({}),
    bench: Bench,
    records: Records.optional(),
    fleets: z.array(FleetPlan).min(1, "name at least one fleet"),
    parts: PartsPlan.optional(),
    truth: z.strictObject({
      /** Simulated lives per fleet and slot behind the truth's L10 and median. */
      lives: z.int().min(1000),
      /** Histories of each fleet behind the expected events of its offenders. */
      histories: z.int().min(0),
      /** Months after as_of whose use is told. */
      months_after: z.int().min(0).default(0),
    }),
  })
  .superRefine((scenario, context) => {
    if (!(scenario.begins <= scenario.records_begin && scenario.records_begin < scenario.as_of)) {
      context.addIssue({
        code: "custom",
        path: ["as_of"],
        message: "the dates must stand in the order begins, records_begin, as_of",
      });
    }
    for (const { path, message } of misplacedParts(scenario)) context.addIssue({ code: "custom", path, message });
    for (const { path, slots: named } of acting(scenario)) {
      for (const slot of named) {
        const fault = unfit(scenario.slots[slot]);
        if (fault === null) continue;
        context.addIssue({
          code: "custom",
          path,
          message: `"${slot}" can't stand here: ${fault}; name slots of the kit`,
        });
      }
    }
  });

/** Parts for slots that there are none of, lists in a fleet's folder, counts that nobody can have made yet. */
function misplacedParts({
  as_of,
  slots: known,
  fleets,
  parts,
}: {
  as_of: string;
  slots: Record<string, unknown>;
  fleets: { name: string }[];
  parts?: PartsPlan | undefined;
}): { path: (string | number)[]; message: string }[] {
  if (parts === undefined) return [];
  const { folder, counted_on, list } = parts;
  return [
    ...(fleets.some(({ name }) => name === folder)
      ? [{ path: ["parts", "folder"], message: `"${folder}" holds a fleet's exports; name another folder` }]
      : []),
    ...counted_on.flatMap((on, at) =>
      on > as_of ? [{ path: ["parts", "counted_on", at], message: `${on} is after as_of, ${as_of}` }] : [],
    ),
    ...list.flatMap(({ slot }, at) =>
      slot === undefined || slot in known
        ? []
        : [{ path: ["parts", "list", at, "slot"], message: `there is no slot "${slot}"` }],
    ),
  ];
}

type Acting = { path: (string | number)[]; slots: string[] };

/** The effects that are a build's or a place's own, with the slots that they act on. */
function acting({
  effects,
  fleets,
}: {
  effects: z.output<typeof Effects>;
  fleets: z.output<typeof FleetPlan>[];
}): Acting[] {
  const declared = Object.entries(effects).flatMap(([effect, plan]): Acting[] =>
    typeof plan === "object" ? [{ path: ["effects", effect, "slots"], slots: plan.slots }] : [],
  );
  const places = fleets.flatMap((fleet, at) =>
    fleet.offenders.map(
      (offender, index): Acting => ({ path: ["fleets", at, "offenders", index, "slots"], slots: offender.slots }),
    ),
  );
  return [...declared, ...places];
}

function unfit(slot: z.output<typeof SlotPlan> | undefined): string | null {
  if (slot === undefined) return "there is no such slot";
  // A life that outlasts builds would have no single factor, and so no law to be compared with.
  return slot.kit ? null : "it outlasts builds, of which this effect is one's own";
}

export type Scenario = z.output<typeof Scenario>;
