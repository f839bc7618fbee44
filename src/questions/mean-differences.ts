import { meanCountDifference } from "../stats/recurrence/mean-count-difference.ts";
import type { GroupOfHistories } from "./group-histories.ts";
import type { MeanDifference } from "./recurrence-answer.ts";
import type { IntervalsQuestion } from "./scope.ts";
import { countedEnds, serviceEvents, whileWatched } from "./service-histories.ts";

/** Of more groups each against one is a table that no one reads. */
const MOST_GROUPS = 12;
/** Steps that are given of one difference; of more, some evenly spread, with the first and the last. */
const MOST_STEPS = 500;

/** Each group's mean number of rebuilds less that of the group with most rebuilds. */
export function meanDifferences(groups: GroupOfHistories[], { events, level }: IntervalsQuestion): MeanDifference[] {
  if (groups.length < 2 || groups.length > MOST_GROUPS) return [];
  const counted = countedEnds(events);
  const histories = groups.map((group) => whileWatched(serviceEvents(group, counted)));
  const against = histories.reduce(
    (most, { time }, place) => (time.length > histories[most]!.time.length ? place : most),
    0,
  );
  return histories.flatMap((own, group): MeanDifference[] => {
    if (group === against) return [];
    const { steps, leftOut, reason } = meanCountDifference(own, histories[against]!, { level });
    const last = steps.at(-1);
    return [
      {
        group,
        against,
        atEnd: last === undefined ? null : { time: last.time, difference: limitsOf(last) },
        steps: thinned(steps).map(({ time, means, estimate, se, low, high }) => ({
          time,
          means,
          estimate,
          se,
          low,
          high,
        })),
        leftOut,
        ...(reason !== undefined && { reason }),
      },
    ];
  });
}

function limitsOf({ estimate, low, high }: { estimate: number; low: number | null; high: number | null }) {
  return { estimate, low, high };
}

function thinned<Step>(steps: Step[]): Step[] {
  if (steps.length <= MOST_STEPS) return steps;
  const every = (steps.length - 1) / (MOST_STEPS - 1);
  return Array.from({ length: MOST_STEPS }, (_, at) => steps[Math.round(at * every)]!);
}
