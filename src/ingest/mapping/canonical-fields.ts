import type { Pipeline } from "../../workspace/pipeline.ts";

export type RecordKind = Pipeline["record"];
export type Dimension = "length" | "temperature" | "hours" | "speed" | "force" | "days" | "angle" | "pieces" | "money";
type Words = readonly string[];

/** What a canonical field holds, and the column of the records that it fills. */
export type CanonicalField = { column: string } & (
  | { kind: "text" }
  | { kind: "date" /** May lie in the future. */; ahead?: true }
  | { kind: "number"; dimension: Dimension }
  | { kind: "words"; words: Words }
  | { kind: "yesno" }
  | { kind: "fleet" }
  | { kind: "slot" }
);

const text = (column: string): CanonicalField => ({ kind: "text", column });
const date = (column: string): CanonicalField => ({ kind: "date", column });
const number = (column: string, dimension: Dimension): CanonicalField => ({ kind: "number", column, dimension });
const words = (column: string, ...list: string[]): CanonicalField => ({ kind: "words", column, words: list });
const yesno = (column: string): CanonicalField => ({ kind: "yesno", column });
const fleet: CanonicalField = { kind: "fleet", column: "fleet" };

// Bearing damage: the classes of ISO 15243:2017. Seals are not coded there: common practice.
const DAMAGE_MODES = [
  "subsurface_fatigue",
  "surface_fatigue",
  "abrasive_wear",
  "adhesive_wear",
  "moisture_corrosion",
  "fretting_corrosion",
  "false_brinelling",
  "excessive_current",
  "current_leakage",
  "overload_deformation",
  "indentation",
  "forced_fracture",
  "fatigue_fracture",
  "thermal_cracking",
  "not_classifiable",
  "lip_wear",
  "lip_hardening",
  "lip_cut",
  "sleeve_groove",
];

/** The fields that a pipeline may map, per record kind, in the order of the record's columns. */
export const CANONICAL_FIELDS: Record<RecordKind, Record<string, CanonicalField>> = {
  rebuild: {
    card: text("card"),
    fleet,
    unit: text("unit"),
    position: text("position"),
    site: text("site"),
    model: text("model"),
    removed_on: date("removed_on"),
    received_on: date("received_on"),
    built_on: date("built_on"),
    installed_on: date("installed_on"),
    revised_on: date("revised_on"),
    hours_removed: number("hours_removed", "hours"),
    hours_installed: number("hours_installed", "hours"),
    reason: words("reason", "failure", "planned", "opportunity", "modification", "unknown"),
    failed_slot: { kind: "slot", column: "failed_slot" },
    lube: words("lube", "oil_bath", "grease"),
    seal_arrangement: text("seal_arrangement"),
    end_play: number("end_play_mm", "length"),
    end_play_found: number("end_play_found_mm", "length"),
    shims: number("shims_mm", "length"),
    race_depth: number("race_depth_mm", "length"),
    spigot_height: number("spigot_height_mm", "length"),
    end_play_unshimmed: number("end_play_unshimmed_mm", "length"),
    ring_temperature: number("ring_temperature_c", "temperature"),
    speed: number("speed_rpm", "speed"),
    fitter: text("fitter"),
    remarks: text("remarks"),
  },
  unit: {
    fleet,
    unit: text("unit"),
    model: text("model"),
    site: text("site"),
    position: text("position"),
    speed: number("speed_rpm", "speed"),
    commissioned_on: date("commissioned_on"),
    last_rebuilt_on: date("last_rebuilt_on"),
    listed_on: date("listed_on"),
  },
  reading: {
    fleet,
    unit: text("unit"),
    read_on: date("read_on"),
    hours: number("hours", "hours"),
    meter_changed: yesno("meter_changed"),
    old_meter_hours: number("old_meter_hours", "hours"),
  },
  retirement: { fleet, unit: text("unit"), retired_on: date("retired_on"), cause: text("cause") },
  stock: {
    part: text("part"),
    place: text("place"),
    counted_on: date("counted_on"),
    on_hand: number("on_hand", "pieces"),
    on_order: number("on_order", "pieces"),
    due_on: { kind: "date", column: "due_on", ahead: true },
  },
  part: {
    part: text("part"),
    title: text("title"),
    slot: { kind: "slot", column: "slot" },
    price: number("price", "money"),
    currency: text("currency"),
    lead_time: number("lead_time_days", "days"),
    lead_time_low: number("lead_time_low_days", "days"),
    lead_time_high: number("lead_time_high_days", "days"),
    pack_size: number("pack_size", "pieces"),
    minimum_order: number("minimum_order", "pieces"),
    replaced_by: text("replaced_by"),
  },
  bearing: {
    part: text("part"),
    kind: words("kind", "ball", "roller"),
    bore: number("bore_mm", "length"),
    outside_diameter: number("outside_diameter_mm", "length"),
    width: number("width_mm", "length"),
    dynamic_rating: number("dynamic_rating_kn", "force"),
    static_rating: number("static_rating_kn", "force"),
    fatigue_limit: number("fatigue_limit_kn", "force"),
    contact_angle: number("contact_angle_deg", "angle"),
  },
};

/** The fields of a slot: under `slots` for wide cards, beside the card's own for long ones. */
export const SLOT_FIELDS: Record<string, CanonicalField> = {
  fitted: yesno("fitted"),
  condition: words("condition", "failed", "worn", "serviceable", "not_inspected"),
  damage_mode: words("damage_mode", ...DAMAGE_MODES),
  part: text("part"),
  batch: text("batch"),
};

/** The fields that a measured value may fill. */
export const MEASURED_FIELDS = Object.entries(CANONICAL_FIELDS.rebuild).flatMap(([key, field]) =>
  field.kind === "number" ? [key] : [],
);

/** Names the kind of value of a row of measured values. */
const MEASURE: Record<string, CanonicalField> = { measure: { kind: "text", column: "measure" } };

/** Names the slot of a row of a long card. */
const SLOT_NAME: Record<string, CanonicalField> = { slot: { kind: "slot", column: "slot" } };

/** A row without one of these is no record: it is quarantined. */
const REQUIRED: Record<RecordKind, readonly string[]> = {
  rebuild: ["card", "fleet", "unit"],
  unit: ["fleet", "unit"],
  reading: ["fleet", "unit", "read_on", "hours"],
  retirement: ["fleet", "unit", "retired_on"],
  stock: ["part", "on_hand"],
  part: ["part"],
  bearing: ["part"],
};

/** What a row of measured values can't do without. */
const REQUIRED_MEASURED: readonly string[] = ["card", "fleet", "measure"];

/** A card must say when it was: by at least one of these. */
export const CARD_DATES = ["removed_on", "received_on", "built_on"] as const;

/** The dates of a card in the only order in which they can come. */
export const DATES_IN_ORDER = ["removed_on", "received_on", "built_on", "installed_on"] as const;

/** The fields that `fields:` of this pipeline may name. */
export function fieldsOf({ record, layout }: Pick<Pipeline, "record" | "layout">): Record<string, CanonicalField> {
  const own = CANONICAL_FIELDS[record];
  if (record !== "rebuild" || layout === "wide") return own;
  return layout === "long" ? { ...own, ...SLOT_NAME, ...SLOT_FIELDS } : { ...own, ...MEASURE };
}

/** Keys without which a row of this pipeline is no record. */
export function requiredOf({ record, layout }: Pick<Pipeline, "record" | "layout">): readonly string[] {
  return layout === "measured" ? REQUIRED_MEASURED : REQUIRED[record];
}
