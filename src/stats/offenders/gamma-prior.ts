import { type Counts, checkCounts, sumOf, watchedCounts } from "./counts.ts";
import { type Dispersion, dispersionOf } from "./dispersion.ts";
import { logFactorial } from "./log-factorial.ts";
import { type SpreadTerms, spreadTerms } from "./spread-terms.ts";

/** How rates of entities are spread: as a gamma distribution of greatest marginal likelihood. */
export type SpreadRates = {
  spread: "gamma";
  /** Shape of the gamma distribution, no unit. */
  shape: number;
  /** Its rate parameter, in the unit of the exposures. */
  rate: number;
  /** Standard error of the shape, from the observed information. */
  shapeSe: number;
  /** Standard error of the rate parameter, likewise. */
  rateSe: number;
  /** Mean of the distribution: shape / rate. */
  mean: number;
  /** Marginal (negative binomial) log-likelihood, no constant dropped. */
  logLikelihood: number;
  /** Log-likelihood of one rate for all (Poisson), no constant dropped. */
  poissonLogLikelihood: number;
  /** All events over all exposure. */
  pooledRate: number;
  /** Test of one rate for all. */
  dispersion: Dispersion;
  /** Steps that the search took. */
  iterations: number;
};

/** Rates that differ by no more than chance: the distribution has shrunk to one rate, the pooled one. */
export type OneRate = {
  spread: "none";
  /** What was seen, as a clause. */
  reason: string;
  /** Log-likelihood of one rate for all, no constant dropped. */
  poissonLogLikelihood: number;
  /** All events over all exposure. */
  pooledRate: number;
  /** Test of one rate for all. */
  dispersion: Dispersion;
};

/** The spread of rates over entities; or why nothing can be said of it. */
export type GammaPrior = SpreadRates | OneRate | { spread: "unknown"; reason: string };

/**
 * Gamma distribution of the rates of entities, by marginal maximum likelihood: events are Poisson about rate times exposure, rates are
 * gamma(shape, rate), so that counts are negative binomial. Newton's method on (log mean, log 1/shape), where the two hardly depend on
 * each other. Where one rate for all is likelier than any spread, that is said.
 * @param counts - events and exposures; entities without exposure take no part
 * @returns the distribution, with standard errors; one rate; or why neither
 * @throws RangeError for columns that are not counts and exposures
 * @see C. N. Morris, J. Amer. Statist. Assoc. 78 (1983) 47-65; Gaver & O'Muircheartaigh, Technometrics 29 (1987) 1-15
 * @example
 * fitGammaPrior({ events: Float64Array.of(5, 1, 22), exposure: Float64Array.of(94.3, 15.7, 10.5) });
 */
export function fitGammaPrior(counts: Counts): GammaPrior {
  checkCounts(counts);
  const watched = watchedCounts(counts);
  const refused = refusalOf(watched);
  if (refused !== null) return { spread: "unknown", reason: refused };
  const pooledRate = sumOf(watched.events) / sumOf(watched.exposure);
  const dispersion = dispersionOf(watched);
  const common = { pooledRate, dispersion, poissonLogLikelihood: poissonLogLikelihood(watched, pooledRate) };
  const found = bestMaximum(watched, pooledRate);
  if (found === null || found.terms.value <= common.poissonLogLikelihood) {
    return { spread: "none", reason: "the counts differ by no more than chance about one rate", ...common };
  }
  const { terms, iterations, logMean, logVariance } = found;
  const determinant = terms.mm * terms.vv - terms.mv * terms.mv;
  const [mm, vv, mv] = [-terms.vv / determinant, -terms.mm / determinant, terms.mv / determinant];
  const shape = Math.exp(-logVariance);
  const rate = Math.exp(-logVariance - logMean);
  return {
    spread: "gamma",
    shape,
    rate,
    shapeSe: shape * Math.sqrt(vv),
    rateSe: rate * Math.sqrt(vv + 2 * mv + mm),
    mean: Math.exp(logMean),
    logLikelihood: terms.value,
    ...common,
    iterations,
  };
}

function refusalOf({ events }: Counts): string | null {
  if (events.length === 0) return "nothing was watched";
  return events.every((number) => number === 0) ? "there are no events" : null;
}

function poissonLogLikelihood({ events, exposure }: Counts, rate: number): number {
  let sum = 0;
  for (let entity = 0; entity < events.length; entity++) {
    const mean = rate * exposure[entity]!;
    sum += events[entity]! * Math.log(mean) - mean - logFactorial(events[entity]!);
  }
  return sum;
}

type Maximum = { logMean: number; logVariance: number; terms: SpreadTerms; iterations: number };

/** Spreads below this coefficient of variation (the root) are as good as none: counts of 1e9 would not show them. */
const LEAST_LOG_VARIANCE = Math.log(1e-10);
const MOST_STEPS = 100;
/** Rounding keeps a Newton step from getting smaller than this in relative terms. */
const SMALL_STEP = 1e-11;

/** From the moments of the counts, and from a wide spread of the rates seen: where exposures are very unequal there may be two tops. */
function bestMaximum(counts: Counts, pooledRate: number): Maximum | null {
  const near = maximum(counts, { logMean: Math.log(pooledRate), logVariance: startOf(counts, pooledRate) });
  const meanRate =
    sumOf(counts.events.map((number, entity) => number / counts.exposure[entity]!)) / counts.events.length;
  const wide = maximum(counts, { logMean: Math.log(meanRate), logVariance: 0 });
  if (near === null || wide === null) return near ?? wide;
  return wide.terms.value > near.terms.value + Math.abs(near.terms.value) * 1e-9 ? wide : near;
}

type SpreadPoint = Pick<Maximum, "logMean" | "logVariance" | "terms">;

function maximum(counts: Counts, start: Pick<Maximum, "logMean" | "logVariance">): Maximum | null {
  let at: SpreadPoint = { ...start, terms: spreadTerms(counts, start.logMean, start.logVariance) };
  for (let iterations = 1; iterations <= MOST_STEPS; iterations++) {
    const step = newtonStep(at.terms);
    const next = climbed(counts, at, step);
    const moved = Math.max(Math.abs(next.logMean - at.logMean), Math.abs(next.logVariance - at.logVariance));
    at = next;
    if (at.logVariance < LEAST_LOG_VARIANCE) return null;
    if (moved < SMALL_STEP * iterations) return isMaximum(at.terms) ? { ...at, iterations } : null;
  }
  return isMaximum(at.terms) ? { ...at, iterations: MOST_STEPS } : null;
}

/** The first of ever shorter steps that does not fall, but for rounding. */
function climbed(counts: Counts, at: SpreadPoint, [byMean, byVariance]: [number, number]): SpreadPoint {
  const least = at.terms.value - Math.abs(at.terms.value) * 1e-14;
  for (let share = 1; share > 1e-12; share /= 2) {
    const [logMean, logVariance] = [at.logMean + share * byMean, at.logVariance + share * byVariance];
    const terms = spreadTerms(counts, logMean, logVariance);
    if (terms.value >= least) return { logMean, logVariance, terms };
  }
  return at;
}

function isMaximum({ mm, vv, mv }: SpreadTerms): boolean {
  return mm < 0 && vv < 0 && mm * vv > mv * mv;
}

/** Newton's step, or one along each slope alone where the likelihood is not yet hollow; 2 at most, a factor of 7. */
function newtonStep({ m, v, mm, vv, mv }: SpreadTerms): [number, number] {
  const determinant = mm * vv - mv * mv;
  const hollow = mm < 0 && vv < 0 && determinant > 0;
  const byMean = hollow ? (mv * v - vv * m) / determinant : m / Math.abs(mm);
  const byVariance = hollow ? (mv * m - mm * v) / determinant : v / Math.max(Math.abs(vv), Math.abs(v));
  const clip = Math.min(1, 2 / Math.max(Math.abs(byMean), Math.abs(byVariance), Number.MIN_VALUE));
  return [byMean * clip, byVariance * clip];
}

/** Moments: what the squares are above the counts, over the squares of what is expected. */
function startOf({ events, exposure }: Counts, rate: number): number {
  let [excess, squares] = [0, 0];
  for (let entity = 0; entity < events.length; entity++) {
    const expected = rate * exposure[entity]!;
    excess += (events[entity]! - expected) ** 2 - events[entity]!;
    squares += expected ** 2;
  }
  return Math.log(Math.min(Math.max(excess / squares, 1e-6), 10));
}
