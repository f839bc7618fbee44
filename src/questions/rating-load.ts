import { angularContactFactors } from "../stats/rating/angular-contact-factors.ts";
import { equivalentLoad, type LoadFactors, type SteppedLoadFactors } from "../stats/rating/equivalent-load.ts";
import type { BearingKind } from "../workspace/bearing-data.ts";
import { KNOWN_ANGLES } from "../workspace/bearing-keys.ts";
import type { BearingFacts } from "./rating-facts.ts";
import { type BasisRow, givenRow, type Missing, putUnder, STANDARD } from "./rating-words.ts";
import { inWords } from "./wording.ts";

type Load = { load: number; rows: BasisRow[] };
type Factors = { factors: LoadFactors; source: string };

/** The equivalent load P in kN with what it rests on: as given, or from the radial and the axial load. */
export function ratingLoad(facts: BearingFacts, kind: BearingKind, pieces: number, slot: string): Load | Missing {
  const { equivalent_load: given, radial_load: radial, axial_load: axial } = facts;
  if (given !== undefined) return { load: given.value, rows: [givenRow("Equivalent load P", given, "kN")] };
  if (radial === undefined && axial === undefined) {
    return {
      missing: `no load is known: ${putUnder(slot, "equivalent_load, or radial_load and axial_load,")}`,
    };
  }
  if (radial === undefined || axial === undefined) {
    const [known, unknown] = radial === undefined ? ["axial", "radial"] : ["radial", "axial"];
    return {
      missing: `only the ${known} load is known: ${putUnder(slot, `${unknown}_load (0 where there is none)`)}`,
    };
  }
  const loads = { radial: radial.value, axial: axial.value };
  const found = factorsOf(facts, kind, pieces, loads, slot);
  if ("missing" in found) return found;
  const { factors, source } = found;
  if (!(factors.x * loads.radial > 0 || factors.y * loads.axial > 0)) {
    return { missing: `the loads given come to 0: ${putUnder(slot, "the loads as they are in service")}` };
  }
  const load = equivalentLoad(loads, factors);
  return {
    load,
    rows: [
      givenRow("Radial load Fr", radial, "kN"),
      givenRow("Axial load Fa", axial, "kN"),
      { name: "Load factors X and Y", value: `${factors.x} and ${factors.y}`, source },
      { name: "Equivalent load P = X Fr + Y Fa, at least Fr", value: `${inWords(load)} kN`, source: STANDARD },
    ],
  };
}

function factorsOf(
  facts: BearingFacts,
  kind: BearingKind,
  pieces: number,
  loads: { radial: number; axial: number },
  slot: string,
): Factors | Missing {
  const { x, y } = facts;
  if (x !== undefined && y !== undefined) return { factors: { x: x.value, y: y.value }, source: x.source };
  if (kind === "angular-contact ball") {
    const stepped = angleFactors(facts, pieces, loads.axial, slot);
    return "missing" in stepped ? stepped : { factors: stepAt(stepped.factors, loads), source: stepped.source };
  }
  const thrust = kind === "thrust ball" || kind === "thrust roller";
  if (!thrust && loads.axial === 0) return { factors: { x: 1, y: 0 }, source: `${STANDARD}: radial load alone` };
  if (thrust && loads.radial === 0) return { factors: { x: 0, y: 1 }, source: `${STANDARD}: axial load alone` };
  const both = thrust ? "a thrust bearing with a radial load" : `a ${kind} bearing with an axial load`;
  return { missing: `load factors are not known of ${both}: ${putUnder(slot, "x and y, from the maker's table,")}` };
}

function angleFactors(
  { contact_angle: angle, f0, static_rating: staticRating }: BearingFacts,
  pieces: number,
  axial: number,
  slot: string,
): { factors: SteppedLoadFactors; source: string } | Missing {
  const known = KNOWN_ANGLES.find((one) => one === angle?.value);
  if (angle === undefined || known === undefined) {
    const of = angle === undefined ? "the contact angle is not known" : `none are known for ${angle.value} degrees`;
    const angles = `contact_angle (${KNOWN_ANGLES.join(", ")})`;
    return { missing: `load factors are not known, for ${of}: ${putUnder(slot, `${angles}, or x and y,`)}` };
  }
  const mounting = pieces === 1 ? "single" : "pair";
  const source = `makers' tables after ISO 281 for ${known} degrees (${angle.source}), ${mounting === "single" ? "mounted alone" : "a pair back to back or face to face"}`;
  if (known !== 15) return { factors: angularContactFactors(known, mounting), source };
  if (f0 === undefined || staticRating === undefined) {
    const put = putUnder(slot, "f0 and static_rating, or x and y,");
    return { missing: `load factors at 15 degrees go by f0 and the static load rating of one bearing: ${put}` };
  }
  const relative = (f0.value * axial) / staticRating.value;
  return {
    factors: angularContactFactors(known, mounting, relative),
    source: `${source}, f0 Fa / C0 = ${inWords(relative)} (${f0.source}, ${staticRating.source})`,
  };
}

function stepAt(
  { e, within, beyond }: SteppedLoadFactors,
  { radial, axial }: { radial: number; axial: number },
): LoadFactors {
  return axial <= e * radial ? within : beyond;
}
