import type { LifeModification } from "./life-modification-factor.ts";
import { refuseUnlessPositive } from "./positive.ts";
import type { ReliabilityFactor } from "./reliability-factor.ts";

/**
 * Modified rating life: Lnm = a1 * aISO * L10.
 * @param basic - basic rating life L10, in hours or million revolutions
 * @param reliability - a1, from `reliabilityFactor`
 * @param modification - aISO, from `lifeModificationFactor`
 * @returns in the unit of `basic`; null where there is no modification factor, whose reason then holds
 * @throws RangeError if `basic` is not above 0 and finite
 * @see ISO 281:2007
 * @example modifiedRatingLife(10_000, reliabilityFactor(0.95, "ISO 281:2007"), { factor: 2.4, viscosityRatio: 1 }); // 15360
 */
export function modifiedRatingLife(
  basic: number,
  reliability: ReliabilityFactor,
  modification: LifeModification,
): number | null {
  refuseUnlessPositive("take a modified rating life", { "the basic rating life": basic });
  return modification.factor === null ? null : reliability.factor * modification.factor * basic;
}
