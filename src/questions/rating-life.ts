import { basicRatingLife } from "../stats/rating/basic-rating-life.ts";
import { hoursOfRevolutions } from "../stats/rating/hours-of-revolutions.ts";
import { pairLoadRating } from "../stats/rating/pair-load-rating.ts";
import { reliabilityFactor } from "../stats/rating/reliability-factor.ts";
import { LIFE_EXPONENT, type RollingElement } from "../stats/rating/rolling-element.ts";
import type { BearingKind } from "../workspace/bearing-data.ts";
import type { BearingFacts, Stated } from "./rating-facts.ts";
import { ratingLoad } from "./rating-load.ts";
import { modifiedLife } from "./rating-modified.ts";
import { type BasisRow, givenRow, type Missing, putUnder, STANDARD } from "./rating-words.ts";
import { inWords, percent } from "./wording.ts";

const ELEMENTS: Record<BearingKind, RollingElement> = {
  "radial ball": "ball",
  "angular-contact ball": "ball",
  "radial roller": "roller",
  "thrust ball": "ball",
  "thrust roller": "roller",
};

/** Share of the load rating up to which the standard's life equation holds. */
const HEAVIEST = 0.5;
/** Below this share of the load rating a load is written in another unit than the rating is. */
const LIGHTEST = 1e-4;

/** Where the bearings run and how fast their lives did. */
export type Place = { slot: string; pieces: number; speed: Stated<number> | null };

/** Basic and modified rating life in hours with what they rest on; null with the reason where something is missing. */
export type RatedLife = {
  basis: BasisRow[];
  basic: number | null;
  modified: number | null;
  reason?: string;
  /** What to be careful of. */
  warnings: string[];
};

/** Rating lives by ISO 281 of the bearings that a slot holds, rated as one. */
export function ratedLife(facts: BearingFacts, place: Place): RatedLife {
  const kept: BasisRow[] = [];
  const found = basicLife(facts, place, kept);
  if ("missing" in found) return { basis: kept, basic: null, modified: null, reason: found.missing, warnings: [] };
  const { duty, rating } = found;
  const modified = modifiedLife(facts, duty, place.slot);
  const known = modified !== null && "life" in modified ? modified : null;
  const share = duty.load / rating;
  const life = known?.life ?? duty.basic;
  return {
    basis: [...kept, ...(known?.rows ?? []), ...moreReliable(facts, life, known !== null)],
    basic: duty.basic,
    modified: known?.life ?? null,
    warnings: [
      ...(modified !== null && "missing" in modified ? [`no modified catalogue life: ${modified.missing}`] : []),
      ...(share > HEAVIEST
        ? [`the load is ${inWords(share)} of the dynamic load rating: rating life holds up to ${HEAVIEST}`]
        : []),
    ],
  };
}

/** The basic rating life; rows are added to `kept` as far as it gets. */
function basicLife(facts: BearingFacts, place: Place, kept: BasisRow[]) {
  if (facts.part !== undefined) kept.push({ name: "Part", ...facts.part });
  const rated = loadRating(facts, place, kept);
  if ("missing" in rated) return rated;
  const { kind, pieces, rating } = rated;
  const loaded = ratingLoad(facts, kind, pieces, place.slot);
  if ("missing" in loaded) return loaded;
  kept.push(...loaded.rows);
  if (loaded.load < LIGHTEST * rating) {
    return {
      missing: `the load is next to nothing beside the dynamic load rating: ${putUnder(place.slot, "both in kN")}`,
    };
  }
  const speed = facts.speed ?? place.speed;
  if (speed === null) {
    return {
      missing: `no speed is known, for no card or list has one for these lives: ${putUnder(place.slot, "speed")}`,
    };
  }
  kept.push(givenRow("Speed n", speed, "r/min"));
  const element = ELEMENTS[kind];
  const basic = hoursOfRevolutions(basicRatingLife(rating, loaded.load, element), speed.value);
  kept.push({
    name: "Basic rating life L10h",
    value: `${inWords(basic)} h`,
    source: `${STANDARD}: 1,000,000 / (60 n) (C / P)^${element === "ball" ? LIFE_EXPONENT.ball : "(10/3)"}`,
  });
  return { rating, duty: { kind, pieces, load: loaded.load, speed: speed.value, basic } };
}

/** C of what the slot holds: of the bearing, or of the pair. */
function loadRating(
  facts: BearingFacts,
  { slot, pieces: held }: Place,
  kept: BasisRow[],
): { kind: BearingKind; pieces: number; rating: number } | Missing {
  const { part, kind, dynamic_rating: one } = facts;
  const record = `, or add an export of bearings that lists part ${JSON.stringify(part?.value ?? "")}`;
  const orRecord = part === undefined ? "" : record;
  if (one === undefined) {
    return { missing: `no dynamic load rating is known: ${putUnder(slot, "dynamic_rating")}${orRecord}` };
  }
  if (kind === undefined) {
    return { missing: `it is not known whether balls or rollers roll in it: ${putUnder(slot, "kind")}${orRecord}` };
  }
  kept.push({ name: "Kind", ...kind });
  const pieces = facts.pieces?.value ?? held;
  kept.push(givenRow(pieces === 1 ? "Dynamic load rating C" : "Dynamic load rating C of one", one, "kN"));
  if (pieces === 1) return { kind: kind.value, pieces, rating: one.value };
  const unrated = whyNoPair(kind.value, pieces);
  if (unrated !== null) {
    const put = putUnder(slot, "pieces: 1, with figures of all of them together,");
    return { missing: `the slot holds ${pieces} pieces, and ${unrated}: ${put}` };
  }
  const element = ELEMENTS[kind.value];
  const rating = pairLoadRating(one.value, element);
  kept.push({
    name: "Dynamic load rating C of the pair",
    value: `${inWords(rating)} kN, ${element === "ball" ? "2^0.7" : "2^(7/9)"} times one`,
    source: `${STANDARD}; ${facts.pieces?.source ?? "the slot holds 2"}`,
  });
  return { kind: kind.value, pieces, rating };
}

function whyNoPair(kind: BearingKind, pieces: number): string | null {
  if (pieces > 2) return "only pairs are rated as one here";
  return kind.startsWith("thrust") ? "thrust bearings are not rated as a pair" : null;
}

/** The life that more than 90 % are to reach stands beside: a life seen is compared at 10 % failed. */
function moreReliable({ reliability }: BearingFacts, life: number, modified: boolean): BasisRow[] {
  if (reliability === undefined || reliability.value === 0.9) return [];
  const { factor, table } = reliabilityFactor(reliability.value, STANDARD);
  return [
    {
      name: `${modified ? "Modified" : "Basic"} life that ${percent(reliability.value)} reach`,
      value: `${inWords(factor * life)} h, a1 = ${factor}`,
      source: `${table}; reliability: ${reliability.source}`,
    },
  ];
}
