import { fromWorkingScale, type Interval, isSurvival, type Quantity } from "./quantity.ts";

/** The interval from `reach` below to `reach` above an estimate on the working scale; the two may differ. */
export function intervalAround(quantity: Quantity, estimate: number, below: number, above: number = below): Interval {
  const [from, to] = [fromWorkingScale(quantity, estimate - below), fromWorkingScale(quantity, estimate + above)];
  const [low, high] = isSurvival(quantity) ? [to, from] : [from, to];
  const found = { estimate: fromWorkingScale(quantity, estimate), low, high };
  return high < Number.POSITIVE_INFINITY ? found : { ...found, high: null, reason: BEYOND };
}

const BEYOND = "no upper limit: it lies beyond the range of numbers";
