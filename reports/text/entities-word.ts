import { entities } from "../../src/questions/entity-words.ts";
import type { EntityKind } from "../../src/questions/offenders-answer.ts";

/** "frames", "part batches". */
export function entitiesWord(kind: EntityKind): string {
  return entities(2, kind).replace(/^\S+ /, "");
}
