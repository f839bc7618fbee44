import { emptyTerms, type Family, type Terms } from "../distribution/family.ts";
import type { Slopes } from "./slopes.ts";

const at = emptyTerms();
const from = emptyTerms();

/** Below this hazard the fraction failed is the hazard in double precision. */
const SMALL = 1e-17;

/** Log of the cumulative hazard at w, and its derivatives by (a, e), w being log t - a: to full relative precision however far out. */
export function logHazardAt(family: Family, w: number, e: number): Slopes {
  if (isExtremeValue(family)) return powerLaw(family, w, e);
  family.logSurvival(w, e, at);
  if (-at.value > SMALL) return logOf(-at.value, -at.w, -at.e, -at.ww, -at.we, -at.ee);
  family.logFailed(w, e, at);
  return byScale(at);
}

/** A stretch of log age this short is passed at one rate: the hazards at its ends would cancel. */
const SHORT = 1e-6;

/** Log of the cumulative hazard between w and `further` beyond it, and its derivatives by (a, e). */
export function logHazardBetween(family: Family, w: number, further: number, e: number): Slopes {
  if (isExtremeValue(family)) return powerLawBetween(family, w, further, e);
  if (further < SHORT) return rateAt(family, w + further / 2, further, e);
  family.logSurvival(w, e, from);
  family.logSurvival(w + further, e, at);
  const hazard = from.value - at.value;
  if (!(hazard > SMALL)) return farBelow(family, w, further, e);
  return logOf(hazard, from.w - at.w, from.e - at.e, from.ww - at.ww, from.we - at.we, from.ee - at.ee);
}

/** Whether the log hazard of a family is straight in log age. */
export function isExtremeValue({ name }: Family): boolean {
  return name === "weibull" || name === "exponential";
}

/** Weibull: the log hazard is k w, and so never leaves the range of numbers. */
function powerLaw({ fitsShape }: Family, w: number, e: number): Slopes {
  const k = fitsShape ? Math.exp(e) : 1;
  const [byE, across] = fitsShape ? [k * w, -k] : [0, 0];
  return { value: k * w, a: -k, e: byE, aa: 0, ae: across, ee: byE };
}

/** Log of the cumulative hazard between w and `further` beyond it, of shape k, without derivatives: k w + log(exp(k further) - 1). */
export function powerLawValue(k: number, w: number, further: number): number {
  const d = k * further;
  return k * w + (d < MOST ? Math.log(Math.expm1(d)) : d);
}

function powerLawBetween(family: Family, w: number, further: number, e: number): Slopes {
  const start = powerLaw(family, w, e);
  const k = family.fitsShape ? Math.exp(e) : 1;
  const d = k * further;
  const growth = d > 0 ? d / -Math.expm1(-d) : 1;
  const value = powerLawValue(k, w, further);
  if (!family.fitsShape) return { ...start, value };
  return { ...start, value, e: start.e + growth, ee: start.ee + growth * (1 + d - growth) };
}

/** From here on exp(d) - 1 is exp(d) in double precision. */
const MOST = 40;

function rateAt(family: Family, w: number, further: number, e: number): Slopes {
  family.logDensity(w, e, at);
  family.logSurvival(w, e, from);
  const value = Math.log(further) + at.value - from.value;
  const rate = {
    value,
    w: at.w - from.w,
    e: at.e - from.e,
    ww: at.ww - from.ww,
    we: at.we - from.we,
    ee: at.ee - from.ee,
  };
  return byScale(rate);
}

/** Where next to none has failed the hazard is the fraction failed, and its log that of a difference. */
function farBelow(family: Family, w: number, further: number, e: number): Slopes {
  family.logFailed(w + further, e, at);
  family.logFailed(w, e, from);
  const share = -Math.expm1(from.value - at.value);
  const [more, less] = [1 / share, 1 / share - 1];
  const [byW, byE] = [more * at.w - less * from.w, more * at.e - less * from.e];
  return byScale({
    value: at.value + Math.log(share),
    w: byW,
    e: byE,
    ww: more * (at.ww + at.w ** 2) - less * (from.ww + from.w ** 2) - byW ** 2,
    we: more * (at.we + at.w * at.e) - less * (from.we + from.w * from.e) - byW * byE,
    ee: more * (at.ee + at.e ** 2) - less * (from.ee + from.e ** 2) - byE ** 2,
  });
}

/** Log of a hazard from its derivatives by (w, e). */
function logOf(hazard: number, w: number, e: number, ww: number, we: number, ee: number): Slopes {
  const [byW, byE] = [w / hazard, e / hazard];
  return {
    value: Math.log(hazard),
    a: -byW,
    e: byE,
    aa: ww / hazard - byW * byW,
    ae: byW * byE - we / hazard,
    ee: ee / hazard - byE * byE,
  };
}

/** w = log t - a. */
function byScale({ value, w, e, ww, we, ee }: Terms): Slopes {
  return { value, a: -w, e, aa: ww, ae: -we, ee };
}
