import { UserError } from "../errors.ts";
import type { Basis } from "./answer.ts";

export function emptyBasis(): Basis {
  return { lives: 0, failed: 0, suspended: 0, running: 0, unknown: 0, leftOut: {} };
}

/** Counts `lives` more of a status; with a `reason` they are left out and counted by it. */
export function addToBasis(basis: Basis, reason: string, status: string, lives: number): void {
  if (reason !== "") {
    basis.leftOut[reason] = (basis.leftOut[reason] ?? 0) + lives;
    return;
  }
  if (status !== "failed" && status !== "suspended" && status !== "running" && status !== "unknown") {
    throw new UserError(
      `Cannot count the lives: found status "${status}"; it must be failed, suspended, running or unknown`,
    );
  }
  basis.lives += lives;
  basis[status] += lives;
}

/** The basis of several groups together. */
export function sumOfBases(bases: Basis[]): Basis {
  const sum = emptyBasis();
  for (const basis of bases) {
    for (const key of ["lives", "failed", "suspended", "running", "unknown"] as const) sum[key] += basis[key];
    for (const [reason, lives] of Object.entries(basis.leftOut))
      sum.leftOut[reason] = (sum.leftOut[reason] ?? 0) + lives;
  }
  return sum;
}
