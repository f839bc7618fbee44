import { checkLives } from "../check-lives.ts";
import type { Lives } from "../lives.ts";

/** Lives that end by one of several causes (damage modes), in columns of equal length. */
export type CauseLives = Lives & {
  /** Cause of the failure, from 0 up; -1 where the life was still unfailed. */
  cause: Int32Array;
};

/**
 * Checks lives with causes.
 * @throws RangeError for columns that are not lives, or a cause that is out of range, lacks a failure, or is lacking at one
 */
export function checkCauseLives(lives: CauseLives, causes: number): void {
  checkLives(lives);
  const { cause, failed } = lives;
  for (let life = 0; life < cause.length; life++) {
    const possible = failed[life] === 1 ? cause[life]! >= 0 && cause[life]! < causes : cause[life] === -1;
    if (possible) continue;
    const state = failed[life] === 1 ? "failed" : "did not fail";
    throw new RangeError(
      `Cannot use the causes: life ${life} (counted from 0) ${state} and its cause is ${cause[life]}, of ${causes}`,
    );
  }
}
