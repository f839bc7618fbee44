import type { Conditional } from "./life-answer.ts";
import type { Law } from "./life-limits.ts";

/** A life still running. */
type Running = Pick<Conditional, "id" | "unit" | "position" | "age">;

/** How likely each running life is to run on for each of the times asked for. */
export function conditionals(running: Running[], { estimate }: Law, mission: number[]): Conditional[] {
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
