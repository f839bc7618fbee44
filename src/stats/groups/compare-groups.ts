import { chiSquareTail } from "../chi-square-tail.ts";
import { fitWeibull, type WeibullFit } from "../weibull/fit.ts";
import { type CommonShapeFit, commonShapeOf } from "./common-shape.ts";
import { type GatheredGroup, type Group, gatherGroup } from "./gather-groups.ts";
import { mergeLives } from "./merge-lives.ts";
import { ownFit } from "./own-fit.ts";

/** A likelihood-ratio test, or why there is none. */
export type RatioTest =
  | {
      tested: true;
      /** Twice the difference of the log-likelihoods. */
      chiSquare: number;
      /** Numbers that the wider model has more. */
      degrees: number;
      /** From the chi-square distribution, which holds for many failures. */
      p: number;
      /** Number of groups compared. */
      groups: number;
    }
  | { tested: false; reason: string };

/** Three models of the same groups, and the tests between them. */
export type GroupComparison = {
  /** Each group by itself: two numbers per group. */
  separate: WeibullFit[];
  /** One shape, a scale per group. */
  commonShape: CommonShapeFit;
  /** All lives as of one distribution. */
  together: WeibullFit;
  /** Is there one shape? Separate fits against a common shape, k - 1 degrees. */
  oneShape: RatioTest;
  /** Is there one distribution? Separate fits against all lives as one, 2 (k - 1) degrees. */
  oneDistribution: RatioTest;
  /** Given one shape, is there one scale? Common shape against all lives as one, k - 1 degrees. */
  oneScale: RatioTest;
};

/**
 * Fits groups apart, with one shape, and as one, and tests the steps between by likelihood ratio. A test takes the groups
 * that its wider model can fit (two failures at different ages for `oneShape` and `oneDistribution`, one for `oneScale`),
 * and fits both models to those.
 * @param groups - lives of each group, all in one unit
 * @returns fits in the order of the groups, and the three tests; what can't be had says why
 * @throws RangeError for columns that are not lives
 * @see Lawless, Statistical Models and Methods for Lifetime Data, ch. 5
 * @example compareGroups([saltmere, ostrel]).oneShape;
 */
export function compareGroups(groups: Group[]): GroupComparison {
  const gathered = groups.map(gatherGroup);
  const separate = gathered.map(ownFit);
  const commonShape = commonShapeOf(gathered);
  const alone = gathered.filter((_, at) => separate[at]?.converged);
  const scaled = commonShape.converged ? gathered.filter((_, at) => commonShape.groups[at]?.converged) : [];
  const shapeOfAlone = alone.length === scaled.length ? commonShape : commonShapeOf(alone);
  const each = sumOf(separate);
  const one = togetherFit(alone);
  const degrees = alone.length - 1;
  return {
    separate,
    commonShape,
    together: togetherFit(gathered),
    oneShape: ratioTest(each, shapeOfAlone, degrees, alone.length),
    oneDistribution: ratioTest(each, one, 2 * degrees, alone.length),
    oneScale: ratioTest(commonShape, togetherFit(scaled), scaled.length - 1, scaled.length),
  };
}

function togetherFit(groups: GatheredGroup[]): WeibullFit {
  const lives = mergeLives(groups.flatMap((group) => (group.usable ? [group.lives] : [])));
  const { failures } = lives;
  if (failures < 2) return { converged: false, reason: "there are fewer than two failures in all", failures };
  if (lives.spread === 0 && lives.highZ.length === 0) {
    return { converged: false, reason: "all failures are at one age, which tells nothing of the shape", failures };
  }
  return fitWeibull(lives);
}

type Fitted = { converged: true; logLikelihood: number } | { converged: false; reason: string };

function sumOf(fits: WeibullFit[]): Fitted {
  const logLikelihood = fits.reduce((sum, fit) => sum + (fit.converged ? fit.logLikelihood : 0), 0);
  return { converged: true, logLikelihood };
}

function ratioTest(wide: Fitted, narrow: Fitted, degrees: number, groups: number): RatioTest {
  if (groups < 2) return { tested: false, reason: "there are fewer than two groups with enough failures to compare" };
  if (!wide.converged) return { tested: false, reason: wide.reason };
  if (!narrow.converged) return { tested: false, reason: narrow.reason };
  const chiSquare = Math.max(0, 2 * (wide.logLikelihood - narrow.logLikelihood));
  return { tested: true, chiSquare, degrees, p: chiSquareTail(chiSquare, degrees), groups };
}
