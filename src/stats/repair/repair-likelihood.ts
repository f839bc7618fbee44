import type { Gaps } from "./gather-gaps.ts";
import { type PowerSeries, powerSeries, powerSumsAround } from "./power-series.ts";
import { type PowerSums, powerSums } from "./power-sums.ts";
import { type RepairModel, VirtualAges } from "./virtual-ages.ts";

/** Degree of repair and log shape. */
export type DegreeAndShape = { q: number; e: number };

/** A log-likelihood and its derivatives by the degree q and the log shape e; those by q are 0 where not asked for. */
export type RepairSlopes = { value: number; q: number; e: number; qq: number; qe: number; ee: number };

/**
 * Log-likelihood of gaps under a Weibull first life: each gap is a life left-truncated at the virtual age at which watching began.
 * Of the ages themselves, no constant dropped.
 */
export class RepairLikelihood {
  readonly gaps: Gaps;
  readonly #ages: VirtualAges;
  /** By degree, each about the shape last asked for that the one before it did not reach; null where digits would be lost. */
  readonly #series = new Map<number, PowerSeries | null>();

  constructor(gaps: Gaps, model: RepairModel) {
    this.gaps = gaps;
    this.#ages = new VirtualAges(gaps, model);
  }

  #sumsAt({ q, e }: DegreeAndShape, byDegree: boolean): PowerSums {
    const shape = Math.exp(e);
    const known = byDegree ? undefined : this.#series.get(q);
    const near = known ? powerSumsAround(known, shape) : null;
    if (near) return near;
    this.#ages.setDegree(q);
    // At a degree held fixed many shapes are looked at.
    if (!byDegree && known !== null) this.#series.set(q, powerSeries(this.#ages, this.gaps.failed, shape));
    return powerSums(this.#ages, this.gaps.failed, shape, byDegree);
  }

  /** At the scale that is best for this degree and shape. */
  atBestScale(at: DegreeAndShape, byDegree: boolean): RepairSlopes {
    const { s, sk, skk, l, sq, sqk, sqq, lq, lqq, largest } = this.#sumsAt(at, byDegree);
    const r = this.gaps.failures;
    const k = Math.exp(at.e);
    const log = r * (Math.log(r / s) - 1 - Math.log(largest));
    return inLogShape(k, {
      value: r * at.e + (k - 1) * l + log,
      q: (k - 1) * lq - (r * sq) / s,
      e: r / k + l - (r * sk) / s,
      qq: (k - 1) * lqq - r * (sqq / s - (sq / s) ** 2),
      qe: lq - r * (sqk / s - (sq / s) * (sk / s)),
      ee: -r / k ** 2 - r * (skk / s - (sk / s) ** 2),
    });
  }

  /** At a given log scale, with the derivative by it. */
  atScale(at: DegreeAndShape, logScale: number, byDegree: boolean): RepairSlopes & { logScale: number } {
    const { s, sk, skk, l, sq, sqk, sqq, lq, lqq, ...ages } = this.#sumsAt(at, byDegree);
    const r = this.gaps.failures;
    const k = Math.exp(at.e);
    const largest = Math.log(ages.largest);
    const c = largest - logScale;
    const rate = Math.exp(k * c);
    const slopes = inLogShape(k, {
      value: r * (at.e + k * c - largest) + (k - 1) * l - rate * s,
      q: (k - 1) * lq - rate * sq,
      e: r / k + l + r * c - rate * (c * s + sk),
      qq: (k - 1) * lqq - rate * sqq,
      qe: lq - rate * (c * sq + sqk),
      ee: -r / k ** 2 - rate * (c * (c * s + 2 * sk) + skk),
    });
    return { ...slopes, logScale: k * (rate * s - r) };
  }

  /** The log scale that is best for a degree and shape, and its derivatives by them. */
  bestLogScale(at: DegreeAndShape, byDegree: boolean): { value: number; q: number; e: number } {
    const { s, sk, sq, largest } = this.#sumsAt(at, byDegree);
    const k = Math.exp(at.e);
    const log = Math.log(this.gaps.failures / s) / k;
    return { value: Math.log(largest) - log, q: sq / (s * k), e: sk / s + log };
  }
}

/** From derivatives by the shape `k` to those by its log. */
function inLogShape(k: number, by: RepairSlopes): RepairSlopes {
  const { value, q, e, qq, qe, ee } = by;
  return { value, q, e: k * e, qq, qe: k * qe, ee: k * (k * ee + e) };
}
