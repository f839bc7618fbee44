import type { Counts } from "../../../../src/stats/offenders/counts.ts";
import { expectedEvents, type Stretches } from "../../../../src/stats/offenders/expected-events.ts";
import { type OffenderVerdict, offenderVerdicts } from "../../../../src/stats/offenders/offender-verdicts.ts";
import { twoGroupRatios } from "../../../../src/stats/offenders/two-group-ratios.ts";
import { fitTwoGroups } from "../../../../src/stats/offenders/two-groups.ts";

/** Verdicts on events against expected events. */
export function judged(counts: Counts): OffenderVerdict[] {
  const fit = fitTwoGroups(counts);
  if (!fit.found) return Array.from(counts.events, () => "within chance");
  return offenderVerdicts(fit, twoGroupRatios(counts, fit, { level: 0.95 }).probabilityOrdinary).verdict;
}

/** Verdicts by the others' hazard of age. */
export function judgedByAge(stretches: Stretches, entities: number): OffenderVerdict[] {
  const { events, expected } = expectedEvents(stretches, entities);
  return judged({ events, exposure: expected });
}

/** Verdicts by the others' rate, as where only counts and exposures are on record. */
export function judgedByExposure(stretches: Stretches, entities: number): OffenderVerdict[] {
  const events = new Float64Array(entities);
  const exposure = new Float64Array(entities);
  let [all, whole] = [0, 0];
  for (const [row, entity] of stretches.entity.entries()) {
    const length = stretches.stop[row]! - stretches.entry[row]!;
    events[entity]! += stretches.event[row]!;
    exposure[entity]! += length;
    all += stretches.event[row]!;
    whole += length;
  }
  return judged({ events, exposure: exposure.map((own, unit) => (own * (all - events[unit]!)) / (whole - own)) });
}
