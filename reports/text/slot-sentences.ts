import type { Clock, LifeGroup } from "../../src/questions/answer.ts";
import { count, unitOf, withLimits } from "../../src/questions/wording.ts";
import { hazardWords } from "./hazard-words.ts";

/** What the lives of one slot say: how many there are, how long they last, and how failures go with age. */
export function slotSentences(group: LifeGroup, clock: Clock | null): string {
  const { basis, l10, median } = group;
  const unit = unitOf(clock);
  const lives = `${count(basis.failed, "failure")} in ${count(basis.lives, "life", "lives")}, ${basis.running.toLocaleString("en-US")} of them still running.`;
  if (l10.estimate === null) return `${lives} No life can be given: ${l10.reason ?? "no estimate"}.`;
  const hazard = hazardWords(group);
  return `${lives} By the fitted law one in ten has failed by ${withLimits(l10, unit)}, half by ${withLimits(median, unit)}.${hazard === null ? "" : ` ${hazard}`}`;
}
