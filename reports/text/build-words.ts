import type { DossierBuild, FoundPart, NeighbourBuild } from "../../src/questions/dossier-types.ts";
import { inWords } from "../../src/questions/wording.ts";
import { capitalised } from "./capitalised.ts";

const ENDS = { failure: "failure", planned: "planned", unknown: "no reason given" } as const;

/** How a build ended: "failure (Drive-end seals)", "no rebuild since". */
export function endWords(
  {
    ends,
    assumedRunning,
    retired,
    failedSlot,
  }: Pick<DossierBuild, "ends" | "assumedRunning" | "retired" | "failedSlot">,
  slots: Record<string, string>,
): string {
  if (retired) return "frame taken out of use";
  if (ends === "end") return assumedRunning ? "taken to run still" : "no rebuild since";
  return failedSlot === null ? ENDS[ends] : `${ENDS[ends]} (${slots[failedSlot] ?? failedSlot})`;
}

/** The day on which a build was taken out; null of one that was not. */
export function outOn<Day>({
  ends,
  retired,
  stop,
}: {
  ends: DossierBuild["ends"];
  retired: boolean;
  stop: Day;
}): Day | null {
  return ends === "end" && !retired ? null : stop;
}

/** How long a build ran, or why that is not known. */
export function ranWords({ ran, noRun }: Pick<NeighbourBuild, "ran" | "noRun">): string {
  return ran === null ? `not known: ${noRun ?? "no reading"}` : inWords(ran);
}

/** What went in: a line for each slot of which the part is told, and one for the others: "New: Drive-end seals, Shaft sleeve". */
export function fittedLines(
  { fitted, card }: Pick<DossierBuild, "fitted" | "card">,
  slots: Record<string, string>,
): string[] {
  if (fitted.length === 0) return [card === null ? "No card" : "Nothing told"];
  const told = fitted.flatMap(({ slot, part, batch }) => {
    const what = [...(part === null ? [] : [part]), ...(batch === null ? [] : [`batch ${batch}`])].join(", ");
    return what === "" ? [] : [`${slots[slot] ?? slot}: ${what}`];
  });
  const others = fitted
    .filter(({ part, batch }) => part === null && batch === null)
    .map(({ slot }) => slots[slot] ?? slot);
  return [...told, ...(others.length === 0 ? [] : [`New: ${others.join(", ")}`])];
}

/** What was found at the end: a line for each slot that had failed, was worn or was damaged, and one for each other condition. */
export function foundLines(
  { found, endCard }: Pick<DossierBuild, "found" | "endCard">,
  slots: Record<string, string>,
): string[] {
  if (endCard === null) return ["Not opened"];
  if (found.length === 0) return ["Nothing told"];
  const bad = found.filter((one) => isBad(one)).toSorted((one, other) => rank(one) - rank(other));
  const rest = new Map<string, string[]>();
  for (const one of found) {
    if (isBad(one)) continue;
    const condition = one.condition ?? "";
    rest.set(condition, [...(rest.get(condition) ?? []), slots[one.slot] ?? one.slot]);
  }
  return [
    ...bad.map(({ slot, condition, damageMode }) => {
      const what = [condition, damageMode].filter((word) => word !== null).map((word) => word.replaceAll("_", " "));
      return `${slots[slot] ?? slot}: ${what.join(", ")}`;
    }),
    ...[...rest].map(([condition, names]) => `${capitalised(condition.replaceAll("_", " "))}: ${names.join(", ")}`),
  ];
}

function isBad({ condition, damageMode }: FoundPart): boolean {
  return damageMode !== null || condition === "failed" || condition === "worn";
}

function rank({ condition }: FoundPart): number {
  if (condition === "failed") return 0;
  return condition === "worn" ? 1 : 2;
}
