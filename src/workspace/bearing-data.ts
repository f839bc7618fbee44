import * as z from "zod";
import { type CATALOGUE_KEYS, KNOWN_ANGLES, LOAD_KEYS } from "./bearing-keys.ts";

/** Bearings by what rolls in them and which way they carry: ISO 281 rates each by its own formulas. */
const BEARING_KINDS = ["radial ball", "angular-contact ball", "radial roller", "thrust ball", "thrust roller"] as const;
export type BearingKind = (typeof BEARING_KINDS)[number];

/** How clean grease is kept, and the particle codes (ISO 4406) that oil meets. */
const GREASE = ["high", "normal", "slight", "severe", "very_severe"] as const;
const FILTERED = ["-/13/10", "-/15/12", "-/17/14", "-/19/16"] as const;
const BATH = [...FILTERED, "-/21/18"] as const;

/** More force than any bearing of a pump frame takes: such a number is in newtons. */
const MOST_KN = 20_000;

/** A quantity that must be a number above 0, or from 0, and no more than `most`; its name and unit are in what is said of a wrong one. */
function quantity(name: string, unit: string, { zero = false, most = 100_000 } = {}) {
  const wanted = `${name} is a number of ${unit}, ${zero ? "0 or more" : "above 0"}`;
  const number = z.number(wanted).max(most, `${wanted}, and at most ${most.toLocaleString("en-US")}`);
  return zero ? number.min(0, wanted) : number.positive(wanted);
}

function force(name: string, options?: { zero: boolean }) {
  return quantity(name, "kN", options).max(
    MOST_KN,
    `${name} is in kN, and this looks like newtons; divide it by 1,000`,
  );
}

const CLEAN = `contamination is a factor from 0 to 1, or how clean it is kept: { grease: ${GREASE.join(" | ")} }, { oil_filtered: ${FILTERED.join(" | ")} } or { oil_bath: ${BATH.join(" | ")} }`;

const Contamination = z.union(
  [
    z.number(CLEAN).min(0, CLEAN).max(1, CLEAN),
    z.strictObject({ grease: z.enum(GREASE) }),
    z.strictObject({ oil_filtered: z.enum(FILTERED) }),
    z.strictObject({ oil_bath: z.enum(BATH) }),
  ],
  CLEAN,
);
export type Contamination = z.output<typeof Contamination>;

/** What is of the bearing itself, as its maker lists it; of one piece. */
const catalogue = {
  part: z.string().min(1).optional(),
  kind: z.enum(BEARING_KINDS).optional(),
  dynamic_rating: force("dynamic_rating").optional(),
  static_rating: force("static_rating").optional(),
  fatigue_limit: force("fatigue_limit").optional(),
  contact_angle: z
    .literal(KNOWN_ANGLES, `contact_angle is one of ${KNOWN_ANGLES.join(", ")} degrees; for another give x and y`)
    .optional(),
  f0: quantity("f0", "the maker's table").optional(),
  mean_diameter: quantity("mean_diameter", "mm").optional(),
  x: quantity("x", "the maker's table", { zero: true }).optional(),
  y: quantity("y", "the maker's table", { zero: true }).optional(),
} satisfies Record<(typeof CATALOGUE_KEYS)[number], z.ZodType>;

/** The loads on the bearing, or on the pair that is rated as one. */
const loads = {
  equivalent_load: force("equivalent_load").optional(),
  radial_load: force("radial_load", { zero: true }).optional(),
  axial_load: force("axial_load", { zero: true }).optional(),
};

const running = {
  pieces: z.int("pieces is a whole number").min(1, "pieces is a whole number from 1").optional(),
  speed: quantity("speed", "revolutions a minute").min(1, "speed is in revolutions a minute, from 1").optional(),
  viscosity: quantity("viscosity", "mm2/s").optional(),
  contamination: Contamination.optional(),
  reliability: z
    .number()
    .min(0.9, "reliability is a share from 0.9 to 0.9995: 0.95 for 95 %")
    .max(0.9995, "reliability is a share from 0.9 to 0.9995: 0.95 for 95 %")
    .optional(),
};

const FIGURES = { ...catalogue, ...loads, ...running };
const Figures = z.strictObject({ ...FIGURES, source: z.string().min(1).optional() });
type Figures = z.output<typeof Figures>;

/** What needs no word on where it comes from. */
const WORDS: readonly string[] = ["part", "kind", "source", "fleets"];

function checkFigures(figures: Figures, context: z.RefinementCtx): void {
  const fault = (key: string, message: string) => context.addIssue({ code: "custom", path: [key], message });
  const number = Object.keys(figures).find((key) => !WORDS.includes(key));
  if (number !== undefined && figures.source === undefined) {
    fault("source", `say where ${number} comes from: a maker's catalogue and page, a data sheet, or an estimate`);
  }
  if (figures.equivalent_load !== undefined && LOAD_KEYS.slice(1).some((key) => figures[key] !== undefined)) {
    fault("equivalent_load", "give equivalent_load, or radial_load and axial_load; not both");
  }
  if ((figures.x === undefined) !== (figures.y === undefined)) {
    fault(figures.x === undefined ? "y" : "x", "x and y go together: give both, or neither");
  }
}

/** Bearing data of one slot, and under `fleets` what differs there. */
const Bearing = Figures.extend({ fleets: z.record(z.string(), Figures.superRefine(checkFigures)).default({}) });
export type Bearing = z.output<typeof Bearing>;
/** What stands under a slot or under one of its fleets. */
export type BearingFigures = Figures;

/** Bearing data by slot. */
export const Bearings = z.record(z.string(), Bearing.superRefine(checkFigures)).default({});

/** Faults of bearing data that lie in what they name: each as the path to it and a message. */
export function misnamedBearings(
  bearings: Record<string, Bearing>,
  slots: Record<string, { kind: string }>,
  fleets: { name: string }[],
): { path: string[]; message: string }[] {
  const names = fleets.map(({ name }) => name);
  const kept = Object.keys(slots).filter((slot) => slots[slot]?.kind === "bearing");
  return Object.entries(bearings).flatMap(([slot, bearing]) => [
    ...(kept.includes(slot)
      ? []
      : [
          {
            path: ["bearings", slot],
            message: `there is no slot "${slot}" of kind bearing; there ${kept.length === 0 ? "is none" : `are ${kept.join(", ")}`}`,
          },
        ]),
    ...Object.keys(bearing.fleets)
      .filter((fleet) => !names.includes(fleet))
      .map((fleet) => ({
        path: ["bearings", slot, "fleets", fleet],
        message: `there is no fleet "${fleet}"; fleets are ${names.join(", ")}`,
      })),
  ]);
}
