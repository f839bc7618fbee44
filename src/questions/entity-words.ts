import type { EntityKind } from "./offenders-answer.ts";
import { count } from "./wording.ts";

const WORDS: Record<EntityKind, [one: string, many: string]> = {
  unit: ["frame", "frames"],
  position: ["position", "positions"],
  model: ["model", "models"],
  site: ["site", "sites"],
  batch: ["part batch", "part batches"],
};

/** "1 frame", "48 frames". */
export function entities(number: number, kind: EntityKind): string {
  return count(number, ...WORDS[kind]);
}

/** "frame", "part batch". */
export function entityWord(kind: EntityKind): string {
  return WORDS[kind][0];
}
