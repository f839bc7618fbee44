/** Bearings told apart by the life modification factor. */
export type RatedBearing = "radial ball" | "radial roller" | "thrust ball" | "thrust roller";

/** Conditions of a bearing in service. */
export type RunningConditions = {
  /** Kappa, see `viscosityRatio`; 0 or more. */
  viscosityRatio: number;
  /** Contamination factor eC: 0 (very severe) to 1 (utmost cleanliness). */
  contamination: number;
  /** Fatigue load limit Cu, kN. */
  fatigueLimit: number;
  /** Equivalent load P, kN. */
  load: number;
};

/** The factor, or null and why there is none; `viscosityRatio` is the one used, 4 where more was given. */
export type LifeModification =
  | { factor: number; viscosityRatio: number }
  | { factor: null; viscosityRatio: number; reason: string };

type Form = { base: number; power: number; loadShare: number; loadPower: number; end: number; roller: boolean };

const BALL = { base: 2.5671, power: 0.83, loadPower: 1 / 3, end: -9.3, roller: false };
const ROLLER = { base: 1.5859, power: 1, loadPower: 0.4, end: -9.185, roller: true };
const FORMS: Record<RatedBearing, Form> = {
  "radial ball": { ...BALL, loadShare: 1 },
  "radial roller": { ...ROLLER, loadShare: 1 },
  "thrust ball": { ...BALL, loadShare: 1 / 3 },
  "thrust roller": { ...ROLLER, loadShare: 1 / 2.5 },
};

/** By viscosity ratio from: numerator for balls, for rollers, exponent. One copy in circulation prints 0.019087, which breaks the curve. */
const BANDS: readonly { from: number; ball: number; roller: number; exponent: number }[] = [
  { from: 1, ball: 1.9987, roller: 1.2348, exponent: 0.071739 },
  { from: 0.4, ball: 1.9987, roller: 1.2348, exponent: 0.19087 },
  { from: 0.1, ball: 2.2649, roller: 1.3993, exponent: 0.054381 },
];

const MOST = 50;
const LARGEST_RATIO = 4;

/**
 * Life modification factor aISO for lubrication, cleanliness and fatigue limit. For radial ball bearings
 * 0.1 * [1 - (2.5671 - c / kappa^d)^0.83 * (eC * Cu / P)^(1/3)]^-9.3, for radial roller bearings
 * 0.1 * [1 - (1.5859 - c / kappa^d) * (eC * Cu / P)^0.4]^-9.185, c and d by band of kappa; thrust bearings take a third (balls) and
 * 1 / 2.5 (rollers) of eC * Cu / P. It is 50 at most, and 50 where the bracket is not above 0.
 * @param bearing - kind of bearing, which sets the form
 * @param conditions - viscosity ratio, contamination, and the loads in kN
 * @returns the factor; none below a viscosity ratio of 0.1
 * @throws RangeError for a viscosity ratio or contamination factor outside its range, or loads not above 0
 * @see ISO 281:2007; forms seen in public copies, coefficients of rollers and shares of thrust bearings from memory; the curves are
 *   unbroken at kappa = 0.4 and 1 and start at 0.1, which checks what stands in the brackets up to kappa 1
 * @example lifeModificationFactor("radial ball", { viscosityRatio: 1, contamination: 0.5, fatigueLimit: 1.2, load: 6 }); // factor 2.43
 */
export function lifeModificationFactor(bearing: RatedBearing, conditions: RunningConditions): LifeModification {
  checkConditions(conditions);
  const ratio = Math.min(conditions.viscosityRatio, LARGEST_RATIO);
  const band = BANDS.find(({ from }) => ratio >= from);
  if (band === undefined) {
    const reason = `the viscosity ratio ${Number(ratio.toPrecision(3))} is below 0.1, where surfaces touch and no modified life is defined`;
    return { factor: null, viscosityRatio: ratio, reason };
  }
  const form = FORMS[bearing];
  // At 0.1 the coefficients' last digits leave the rollers' film a hair below none.
  const film = Math.max(0, form.base - (form.roller ? band.roller : band.ball) / ratio ** band.exponent) ** form.power;
  const relief = (form.loadShare * conditions.contamination * conditions.fatigueLimit) / conditions.load;
  const bracket = 1 - film * relief ** form.loadPower;
  return { factor: bracket > 0 ? Math.min(MOST, 0.1 * bracket ** form.end) : MOST, viscosityRatio: ratio };
}

function checkConditions({ viscosityRatio, contamination, fatigueLimit, load }: RunningConditions): void {
  const refuse = (what: string, found: number) => {
    throw new RangeError(`Cannot take a life modification factor: ${what}, found ${found}`);
  };
  if (!(viscosityRatio >= 0)) refuse("the viscosity ratio must be 0 or more", viscosityRatio);
  if (!(contamination >= 0 && contamination <= 1)) refuse("the contamination factor must be 0 to 1", contamination);
  if (!(fatigueLimit > 0 && fatigueLimit < Number.POSITIVE_INFINITY)) {
    refuse("the fatigue load limit must be above 0 and finite", fatigueLimit);
  }
  if (!(load > 0 && load < Number.POSITIVE_INFINITY)) refuse("the load must be above 0 and finite", load);
}
