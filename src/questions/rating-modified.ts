import { type Cleanliness, contaminationFactor } from "../stats/rating/contamination-factor.ts";
import { lifeModificationFactor, type RatedBearing } from "../stats/rating/life-modification-factor.ts";
import { viscosityRatio } from "../stats/rating/viscosity-ratio.ts";
import type { BearingKind, Contamination } from "../workspace/bearing-data.ts";
import type { BearingFacts, Stated } from "./rating-facts.ts";
import { type BasisRow, givenRow, type Missing, putUnder, STANDARD } from "./rating-words.ts";
import { allOf, inWords } from "./wording.ts";

/** Kinds that share a form of the life modification factor. */
const FORMS: Record<BearingKind, RatedBearing> = {
  "radial ball": "radial ball",
  "angular-contact ball": "radial ball",
  "radial roller": "radial roller",
  "thrust ball": "thrust ball",
  "thrust roller": "thrust roller",
};

const GREASE = {
  high: "high cleanliness",
  normal: "normal cleanliness",
  slight: "slight to typical contamination",
  severe: "severe contamination",
  very_severe: "very severe contamination",
} as const;

/** What the basic rating life was reckoned with. */
export type Duty = { kind: BearingKind; pieces: number; load: number; speed: number; basic: number };

/**
 * Modified rating life L10m in hours, with what it rests on.
 * @returns null where neither viscosity nor contamination is given: then nobody asks for it
 */
export function modifiedLife(
  facts: BearingFacts,
  duty: Duty,
  slot: string,
): { life: number; rows: BasisRow[] } | Missing | null {
  const { viscosity, contamination, mean_diameter: diameter, fatigue_limit: limit } = facts;
  if (viscosity === undefined && contamination === undefined) return null;
  if (viscosity === undefined || contamination === undefined || diameter === undefined || limit === undefined) {
    const needed = { viscosity, contamination, mean_diameter: diameter, fatigue_limit: limit };
    const lacking = Object.entries(needed).flatMap(([key, fact]) => (fact === undefined ? [key] : []));
    const names = allOf(lacking.map((key) => key.replaceAll("_", " ")));
    return {
      missing: `${names} ${lacking.length === 1 ? "is" : "are"} not known: ${putUnder(slot, allOf(lacking))}`,
    };
  }
  const kappa = viscosityRatio(viscosity.value, duty.speed, diameter.value);
  const clean = cleanness(contamination, kappa, diameter.value);
  const fatigueLimit = limit.value * duty.pieces;
  const { factor, ...why } = lifeModificationFactor(FORMS[duty.kind], {
    viscosityRatio: kappa,
    contamination: clean.factor,
    fatigueLimit,
    load: duty.load,
  });
  if (factor === null) return { missing: "reason" in why ? why.reason : "it has no factor" };
  const life = factor * duty.basic;
  return {
    life,
    rows: [
      givenRow("Viscosity at running temperature", viscosity, "mm2/s"),
      givenRow("Mean diameter", diameter, "mm"),
      { name: "Viscosity ratio", value: inWords(kappa), source: STANDARD },
      clean.row,
      givenRow(duty.pieces === 1 ? "Fatigue load limit Cu" : "Fatigue load limit Cu of one", limit, "kN"),
      ...pairLimit(duty.pieces, fatigueLimit),
      { name: "Life modification factor aISO", value: inWords(factor), source: STANDARD },
      { name: "Modified rating life L10mh = aISO L10h", value: `${inWords(life)} h`, source: STANDARD },
    ],
  };
}

/** Cu is a share of C0 that the kind of bearing fixes (ISO 281, annex B), and C0 of a pair is twice that of one (ISO 76). */
function pairLimit(pieces: number, limit: number): BasisRow[] {
  if (pieces === 1) return [];
  return [
    {
      name: "Fatigue load limit Cu of the pair",
      value: `${inWords(limit)} kN`,
      source: "twice that of one: a share of C0 (ISO 281:2007, annex B), which doubles (ISO 76)",
    },
  ];
}

function cleanness(
  { value, source }: Stated<Contamination>,
  kappa: number,
  diameter: number,
): { factor: number; row: BasisRow } {
  const name = "Contamination factor eC";
  if (typeof value === "number") return { factor: value, row: givenRow(name, { value, source }, "") };
  const cleanliness = cleanlinessOf(value);
  const factor = contaminationFactor(cleanliness, kappa, diameter);
  const words = "level" in cleanliness ? cleanliness.level : cleanliness.code;
  return {
    factor,
    row: {
      name,
      value: `${inWords(factor)}, for ${cleanliness.lubrication}, ${words}`,
      source: `${source}; factor by ISO 281:2007, annex A, with coefficients not checked against the standard's text`,
    },
  };
}

function cleanlinessOf(contamination: Exclude<Contamination, number>): Cleanliness {
  if ("grease" in contamination) return { lubrication: "grease", level: GREASE[contamination.grease] };
  if ("oil_bath" in contamination) {
    return { lubrication: "oil, bath or filtered off line", code: contamination.oil_bath };
  }
  return { lubrication: "oil, filtered in line", code: contamination.oil_filtered };
}
