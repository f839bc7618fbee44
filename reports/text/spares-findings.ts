import type { PlannedAge, SparesPart } from "../../src/questions/spares-answer.ts";
import type { BacktestWindow } from "../../src/questions/spares-backtest-answer.ts";
import { piecesWords } from "../../src/questions/spares-sentence.ts";
import { count, exactly, inWords } from "../../src/questions/wording.ts";
import { shareWithLimits } from "./share-words.ts";
import { shortageWords } from "./spares-words.ts";

/** Of which part most is used, as the answer has it. */
export function useFinding([most]: SparesPart[], months: number): string | undefined {
  return most === undefined
    ? undefined
    : `Most used is ${most.part}: ${piecesWords(most.expected)} pieces in ${count(months, "month")}`;
}

/** Which part runs short soonest. */
export function riskFinding([soonest]: SparesPart[]): string | undefined {
  const odds = soonest === undefined ? null : shortageWords(soonest);
  if (soonest === undefined || odds === null) return undefined;
  return `${soonest.part} is the least sure: with ${exactly(soonest.position ?? 0)} on hand or due it runs short ${odds}`;
}

/** Where planning a rebuild saves most. @param title - of the slot */
export function plannedFinding({ age, saving }: PlannedAge, title: string, unit: string): string | undefined {
  if (age === null || saving === null || saving.estimate === null) return undefined;
  return `Most is saved on ${title}: ${shareWithLimits(saving)} by a rebuild at ${inWords(age)}${unit}`;
}

/** How many of the forecasts that stand apart held what came. */
export function pastFinding(windows: BacktestWindow[]): string {
  const apart = windows.filter(({ isApart }) => isApart);
  const held = apart.filter(
    ({ used, expected: { low, high } }) => used >= (low ?? 0) && used <= (high ?? Number.POSITIVE_INFINITY),
  );
  return `What came lay within the 95 % range of ${held.length} of ${count(apart.length, "forecast")} that stand apart`;
}
