import type { Conditional } from "./life-answer.ts";
import type { Law } from "./life-limits.ts";

/** A life still running. */
type Running = Pick<Conditional, "id" | "unit" | "position" | "age">;

/** More chances than this are not each searched for over the likelihood: it would take a minute. */
const MOST_SEARCHED = 100;

/** How likely each running life is to run on for each of the times asked for. */
export function conditionals(running: Running[], law: Law, mission: number[]): Conditional[] {
  const estimate = running.length * mission.length > MOST_SEARCHED ? law.quickly : law.estimate;
  return running.flatMap((life) =>
    mission.map((further) => ({
      ...life,
      further,
      ...(life.age > 0
        ? estimate({ kind: "conditional", age: life.age, further })
        : estimate({ kind: "survival", time: further })),
    })),
  );
}
