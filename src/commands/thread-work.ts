import { UserError } from "../errors.ts";

/** More threads than this would hold more memory than they save time. */
export const MOST_THREADS = 8;

/** What came of work in another thread; an error that is the user's to mend would lose its kind on the way between threads. */
export type Done<Result = unknown> = { result: Result } | { refused: { message: string; status: UserError["status"] } };

/** Does the work, for another thread to hear of. */
export async function doneOf<Result>(work: () => Result | Promise<Result>): Promise<Done<Result>> {
  try {
    return { result: await work() };
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    return { refused: { message: error.message, status: error.status } };
  }
}

/**
 * The result of work that another thread did.
 * @throws UserError as the work did
 */
export function resultOf<Result>(done: Done<Result>): Result {
  if ("result" in done) return done.result;
  throw new UserError(done.refused.message, done.refused.status);
}
