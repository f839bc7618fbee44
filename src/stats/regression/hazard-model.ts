import { checkLives } from "../check-lives.ts";
import type { Lives } from "../lives.ts";
import { refuseUnseen } from "../survival/refuse-unseen.ts";
import { type Covariate, checkCovariates } from "./covariates.ts";

/** How proportional hazards are fitted; columns have a value for each life. */
export type HazardFitOptions = {
  /** What failures at equal ages are taken for; Efron's way where not given. */
  ties?: "efron" | "breslow";
  /** Lives are compared within a stratum only, each of which has a hazard of its own: a number of 0 or more. */
  stratum?: Int32Array;
  /** Known part of the log hazard. */
  offset?: Float64Array;
  /** How much a life counts, 0 or more. Unlike `count`, a failure of weight 2 is one failure among ties, not two. */
  weight?: Float64Array;
};

/** Lives, what is known of each when it starts, and how proportional hazards are fitted to them. */
export type HazardModel = HazardFitOptions & { lives: Lives; covariates: readonly Covariate[] };

/** @throws RangeError for columns that are not lives, covariates, strata, offsets or weights of them; where there are no covariates */
export function checkHazardModel({ lives, covariates, stratum, offset, weight }: HazardModel): void {
  const size = lives.time.length;
  checkLives(lives);
  if (lives.entry !== undefined) refuseUnseen(lives.time, lives.entry);
  if (covariates.length === 0) throw new RangeError("Cannot fit proportional hazards: there are no covariates");
  checkCovariates(covariates, size);
  checkColumn("stratum", stratum, size, (value) => value >= 0);
  checkColumn("offset", offset, size, Number.isFinite);
  checkColumn("weight", weight, size, (value) => value >= 0 && value <= Number.MAX_VALUE);
}

function checkColumn(
  name: string,
  column: Float64Array | Int32Array | undefined,
  size: number,
  holds: (value: number) => boolean,
): void {
  if (column === undefined) return;
  if (column.length !== size) {
    throw new RangeError(`Cannot fit proportional hazards: ${name} has ${column.length} values, expected ${size}`);
  }
  for (let life = 0; life < size; life++) {
    if (!holds(column[life]!)) {
      throw new RangeError(
        `Cannot fit proportional hazards: ${name} of life ${life} (counted from 0) is ${column[life]}`,
      );
    }
  }
}
