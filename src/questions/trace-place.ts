import type { TracedBuild } from "./trace-unit.ts";
import { allOf, count } from "./wording.ts";

/** What has run at a position, by its builds. */
export function positionSentence(id: string, builds: TracedBuild[]): string {
  if (builds.length === 0) {
    return `Position ${id} has no build: what names it counts nowhere or is not dated, as "framelife audit" tells.`;
  }
  const frames = new Set(builds.map(({ unit }) => unit)).size;
  const days = builds.flatMap(({ start, stop }) => [start, stop].filter((day) => day !== null)).toSorted();
  const span = days.length === 0 ? "" : ` from ${days[0]} to ${days.at(-1)}`;
  const ended = (ends: string) => builds.filter((build) => build.ends === ends).length;
  const ways = [
    ...told(ended("failure"), "ended by failure"),
    ...told(ended("planned"), "ended as planned"),
    ...told(ended("unknown"), "ended for no reason given"),
    ...told(ended("retired"), "ended as the frame was taken out of use"),
    ...told(ended("end"), "not ended"),
  ];
  return `Position ${id} has ${count(builds.length, "build")} of ${count(frames, "frame")}${span}: ${allOf(ways)}.`;
}

function told(number: number, words: string): string[] {
  return number === 0 ? [] : [`${number} ${words}`];
}
