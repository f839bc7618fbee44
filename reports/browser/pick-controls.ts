import type { PickKind } from "../charts/picking.ts";
import { made } from "./made.ts";
import { pickLine } from "./pick-line.ts";
import { picksOf, valuesIn } from "./pickable-values.ts";
import {
  fleetOf,
  isOfFleet,
  isOfPage,
  onPicked,
  pickEntity,
  pickedFor,
  pickSeries,
  scopeOf,
  sectionOf,
} from "./picking.ts";

const WORDS: Record<PickKind, string> = {
  unit: "frame",
  position: "position",
  part: "part",
  built: "builds of",
  reading: "end play",
  slot: "slot",
  fleet: "fleet",
  band: "band",
  mode: "damage mode",
  group: "group",
  field: "field",
};

const natural = new Intl.Collator("en", { numeric: true });

/** Puts a choice of what to highlight at the head of each page and section with charts that can show it. */
export function makePickControls(): void {
  const charts = [...document.querySelectorAll(".chart")];
  for (const main of document.querySelectorAll("main")) {
    const own = charts.filter((chart) => main.contains(chart));
    const sections = [...new Set(own.map(sectionOf))];
    const withKind = (kind: PickKind) =>
      sections.filter((section) => own.some((chart) => sectionOf(chart) === section && hasKind(chart, kind)));
    // What one section alone can show is chosen there.
    const isOfHead = (kind: PickKind) => isOfFleet(kind) || (isOfPage(kind) && withKind(kind).length > 1);
    const picks: Picks = (kind, value) => {
      if (isOfFleet(kind)) pickEntity(value === null ? null : { fleet: fleetOf(main), kind, value });
      else pickSeries(main, kind, value);
    };
    const choices = choicesOf(own, isOfHead, picks);
    if (choices.length > 0) pickLine(main).append(...choices);
    for (const section of sections) {
      const within = own.filter((chart) => sectionOf(chart) === section);
      const series = choicesOf(
        within,
        (kind) => !isOfHead(kind),
        (kind, value) => pickSeries(scopeOf(section, kind), kind, value),
      );
      if (series.length > 0) section.querySelector("h2")?.after(made("div", { class: "picks" }, ...series));
    }
  }
}

function hasKind(chart: Element, kind: PickKind): boolean {
  return picksOf(chart).some((pick) => pick.kind === kind);
}

type Picks = (kind: PickKind, value: string | null) => void;

/** One choice for each kind of which the charts have two or more. */
function choicesOf(charts: Element[], wanted: (kind: PickKind) => boolean, picks: Picks): HTMLElement[] {
  const kinds = [...new Set(charts.flatMap((chart) => picksOf(chart).map(({ kind }) => kind)))].filter(wanted);
  return kinds.flatMap((kind) => {
    const values = valuesOf(charts, kind);
    const [first] = charts;
    return values.length < 2 || first === undefined ? [] : [choiceOf({ kind, values, part: first, picks })];
  });
}

/** Names of a kind in all charts together: series in the order of the charts, of frames and positions there are too many for that. */
function valuesOf(charts: Element[], kind: PickKind): string[] {
  const all = charts.flatMap((chart) =>
    picksOf(chart).flatMap((pick) => (pick.kind === kind ? [...valuesIn(chart, pick)] : [])),
  );
  const values = [...new Set(all)];
  return isOfFleet(kind) ? values.sort(natural.compare) : values;
}

type Choice = { kind: PickKind; values: string[]; part: Element; picks: Picks };

function choiceOf({ kind, values, part, picks }: Choice): HTMLElement {
  const select = made("select", {}, made("option", { text: isOfFleet(kind) ? "none" : "all alike" }));
  select.append(...values.map((value) => made("option", { text: shortened(value) })));
  select.addEventListener("change", () => picks(kind, values[select.selectedIndex - 1] ?? null));
  const follow = () => {
    const picked = pickedFor(part, kind);
    // A name that only tables or other pages have leaves the choice at none.
    select.selectedIndex = picked === null ? 0 : values.indexOf(picked) + 1;
  };
  onPicked(follow);
  follow();
  return made("label", {}, made("span", { text: `Highlight ${WORDS[kind]}` }), select);
}

/** A list of names is no wider than a narrow screen. */
function shortened(name: string): string {
  return name.length > 60 ? `${name.slice(0, 59)}…` : name;
}
