import { fromWorkingScale, type Interval, isSurvival, type Quantity } from "./quantity.ts";

/** The interval from `reach` below to `reach` above an estimate on the working scale; the two may differ. */
export function intervalAround(quantity: Quantity, estimate: number, below: number, above: number = below): Interval {
  const [from, to] = [fromWorkingScale(quantity, estimate - below), fromWorkingScale(quantity, estimate + above)];
  const [low, high] = isSurvival(quantity) ? [to, from] : [from, to];
  const estimated = fromWorkingScale(quantity, estimate);
  if (high < Number.POSITIVE_INFINITY) return { estimate: estimated, low, high };
  return low < Number.POSITIVE_INFINITY
    ? { estimate: estimated, low, high: null, reason: `no upper limit: ${BEYOND}` }
    : { estimate: estimated, low: null, high: null, reason: `no lower and no upper limit: ${BEYOND}` };
}

const BEYOND = "it lies beyond the range of numbers";
