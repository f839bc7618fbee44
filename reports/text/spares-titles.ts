import type { ReportInput } from "../report-input.ts";
import { capitalised } from "./capitalised.ts";

/** Titles of fleets and slots by their names. */
export type Titles = { fleet: (name: string) => string; slot: (name: string) => string };

export function titlesOf({ fleets }: Pick<ReportInput, "fleets">): Titles {
  const titles = new Map(fleets.map(({ name, title }) => [name, title]));
  const slots = fleets[0]?.slots ?? {};
  return {
    fleet: (name) => titles.get(name) ?? name,
    slot: (name) => (name === "frame" ? "Whole frame" : (slots[name] ?? capitalised(name.replaceAll("_", " ")))),
  };
}
