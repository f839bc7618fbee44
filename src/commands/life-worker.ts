import type { LifeGroup } from "../questions/answer.ts";
import type { GroupOfLives } from "../questions/group-lives.ts";
import { lifeGroup } from "../questions/life-group.ts";
import type { LifeQuestion } from "../questions/scope.ts";
import { type Done, doneOf } from "./thread-work.ts";

/** Groups and what is asked of each. */
export type Given = { groups: GroupOfLives[]; question: LifeQuestion };

/** Answers groups of lives in a thread of its own. */
export function answer({ groups, question }: Given): Promise<Done<LifeGroup[]>> {
  return doneOf(() => groups.map((group) => lifeGroup(group, question)));
}
