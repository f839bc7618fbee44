import type { Gaps } from "./gather-gaps.ts";

/** Failures that shape, scale and degree need: with two the degree that makes both come at one virtual age fits without end. */
const LEAST_FAILURES = 3;

/** Why no degree of repair can be told from gaps; null where it may be tried. */
export function repairRefusal({ units, repairs, failures, failedAgain, leftOut }: Gaps): string | null {
  if (units === 0) {
    return leftOut.unknownPast > 0 ? "no unit has a past known since it was new" : "no unit was watched for any time";
  }
  if (repairs === 0) return "there are no repairs";
  if (failures === 0) return "there are no failures: every repair came before one";
  if (failedAgain === 0) return "no unit failed again after a repair";
  if (failures < LEAST_FAILURES) {
    const found = failures === 1 ? "there is only 1 failure" : `there are only ${failures} failures`;
    return `${found}; shape, scale and degree of repair need ${LEAST_FAILURES}`;
  }
  return null;
}
