import type { Bearing, BearingFigures, BearingKind } from "../workspace/bearing-data.ts";
import { CATALOGUE_KEYS, LOAD_KEYS } from "../workspace/bearing-keys.ts";
import type { BearingRecord } from "./rating-records.ts";

/** A value with where it comes from. */
export type Stated<Value> = { value: Value; source: string };

/** What is known of the bearings of a slot in a fleet, each with where it comes from. */
export type BearingFacts = {
  [Key in Exclude<keyof BearingFigures, "source">]?: Stated<NonNullable<BearingFigures[Key]>>;
};

const UNSAID = "framelife.yaml";

/**
 * The facts of a slot in a fleet: the fleet's own figures before the slot's, and the catalogue record of the part for what neither says.
 * A fleet with another bearing takes no catalogue figure of the slot's, one with loads of its own none of the slot's loads.
 */
export function bearingFacts(
  bearing: Bearing,
  fleet: string,
  recordOf: (part: string) => BearingRecord | undefined,
): BearingFacts {
  const { fleets, ...common } = bearing;
  const own = fleets[fleet] ?? {};
  const facts: BearingFacts = { ...statedOf(common, replacedBy(own)), ...statedOf(own, []) };
  const record = facts.part === undefined ? undefined : recordOf(facts.part.value);
  const told: BearingFacts = { ...(record === undefined ? {} : recorded(record)), ...facts };
  if (told.kind === undefined && told.contact_angle !== undefined) {
    return { ...told, kind: { value: "angular-contact ball", source: told.contact_angle.source } };
  }
  return told;
}

function replacedBy(own: BearingFigures): readonly string[] {
  const other = own.part !== undefined || own.dynamic_rating !== undefined;
  const loaded = LOAD_KEYS.some((key) => own[key] !== undefined);
  return [...(other ? CATALOGUE_KEYS : []), ...(loaded ? LOAD_KEYS : [])];
}

function statedOf({ source = UNSAID, ...figures }: BearingFigures, without: readonly string[]): BearingFacts {
  const kept = Object.entries(figures).filter(([key]) => !without.includes(key));
  return Object.fromEntries(kept.map(([key, value]) => [key, { value, source }])) as BearingFacts;
}

function recorded(record: BearingRecord): BearingFacts {
  const { source, bore, outside, angle } = record;
  const figures = {
    kind: kindOf(record),
    dynamic_rating: record.dynamicRating,
    static_rating: record.staticRating,
    fatigue_limit: record.fatigueLimit,
    contact_angle: angle,
    mean_diameter: bore === null || outside === null ? null : (bore + outside) / 2,
  };
  const known = Object.entries(figures).filter(([, value]) => value !== null);
  return Object.fromEntries(known.map(([key, value]) => [key, { value, source }])) as BearingFacts;
}

/** ISO 281 counts a bearing as radial up to 45 degrees. */
const STEEPEST_RADIAL = 45;

function kindOf({ element, angle }: BearingRecord): BearingKind | null {
  const steep = (angle ?? 0) > STEEPEST_RADIAL;
  if (element === "roller") return steep ? "thrust roller" : "radial roller";
  if (element !== "ball") return null;
  if (steep) return "thrust ball";
  return angle === null || angle === 0 ? "radial ball" : "angular-contact ball";
}
