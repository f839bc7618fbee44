/** Where life is longest, and how fast it falls on either side. */
export type EndPlayCurve = { best_thou: number; tight: number; slack: number };

/**
 * Life at an end play, as a share of life at the best one:
 * exp(-tight (best - e)^2) below the best, exp(-slack (e - best)^2) above it, e in thou, `tight` and `slack` per thou squared.
 * @example endPlayFactor(2, { best_thou: 4.6, tight: 0.1, slack: 0.03 }); // 0.509: exp(-0.1 * 2.6^2)
 */
export function endPlayFactor(thou: number, { best_thou, tight, slack }: EndPlayCurve): number {
  const away = thou - best_thou;
  return Math.exp(-(away < 0 ? tight : slack) * away * away);
}
