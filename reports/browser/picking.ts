import type { PickKind } from "../charts/picking.ts";
import { type KeptChoice, keepChoice, keptChoice } from "./kept-choice.ts";
import { type LiveChart, liveCharts, onLive } from "./live-charts.ts";
import { namesIn, picksOf, valuesIn } from "./pickable-values.ts";
import { markPanels } from "./picked-panels.ts";
import { markRows } from "./picked-tables.ts";

/** Kinds that are picked for all pages of a fleet; the others hold for a section. */
export function isOfFleet(kind: PickKind): kind is KeptChoice["kind"] {
  return kind === "unit" || kind === "position";
}

/** Kinds that are picked for a whole page: charts of several sections have them. */
export function isOfPage(kind: PickKind): boolean {
  return kind === "part" || kind === "built" || kind === "reading";
}

/** What is picked: one frame or position for all pages of its fleet, and of each page or section at most one series a kind. */
type State = { entity: KeptChoice | null; series: Map<Element, Map<PickKind, string>> };

const state: State = { entity: null, series: new Map() };
const watchers: (() => void)[] = [];

/** Asks to be told whenever something else is picked. */
export function onPicked(watch: () => void): void {
  watchers.push(watch);
}

/** The fleet that a part of a page is about; pages about all together are about one that has no name. */
export function fleetOf(part: Element): string {
  return part.closest<HTMLElement>("[data-fleet]")?.dataset["fleet"] ?? "";
}

/** The section that a chart belongs to. */
export function sectionOf(part: Element): Element {
  return part.closest("main > section, .beside > section") ?? document.body;
}

/** The part of the page for which a series of a kind is picked. */
export function scopeOf(part: Element, kind: PickKind): Element {
  return isOfPage(kind) ? pageOf(part) : sectionOf(part);
}

function pageOf(part: Element): Element {
  return part.closest("main") ?? document.body;
}

export function pickedEntity(): KeptChoice | null {
  return state.entity;
}

function pickedSeries(scope: Element, kind: PickKind): string | null {
  return state.series.get(scope)?.get(kind) ?? null;
}

/** Picks a frame or a position, or none. */
export function pickEntity(choice: Pick<KeptChoice, "fleet" | "kind" | "value"> | null): void {
  state.entity = choice === null ? null : { ...choice, page: null };
  show();
  keepChoice(state.entity);
}

/** Picks one series of a page or of a section, or none. */
export function pickSeries(scope: Element, kind: PickKind, value: string | null): void {
  const own = state.series.get(scope) ?? new Map<PickKind, string>();
  if (value === null) own.delete(kind);
  else own.set(kind, value);
  state.series.set(scope, own);
  show();
}

/** Nothing is picked any more. @returns whether anything was */
export function clearPicked(): boolean {
  const any = state.entity !== null || [...state.series.values()].some(({ size }) => size > 0);
  state.entity = null;
  state.series.clear();
  if (!any) return false;
  show();
  keepChoice(null);
  return true;
}

/** What is picked of a kind for a part of the page. */
export function pickedFor(part: Element, kind: PickKind): string | null {
  if (!isOfFleet(kind)) return pickedSeries(scopeOf(part, kind), kind);
  const { entity } = state;
  return entity !== null && entity.kind === kind && entity.fleet === fleetOf(part) ? entity.value : null;
}

/** Shows all that is picked in charts and tables. */
function show(): void {
  for (const chart of liveCharts()) showIn(chart);
  const { entity } = state;
  for (const section of document.querySelectorAll("main > section, .beside > section")) {
    const picked = pickedIn(section);
    markPanels(section, picked.get("part") ?? null);
    const { page } = markRows(section.querySelectorAll("table"), picked);
    if (entity !== null && picked.has(entity.kind)) entity.page ??= pageIn(page);
  }
  for (const watch of watchers) watch();
}

/** All that is picked for a section: of its fleet, of its page, and of itself. */
function pickedIn(section: Element): Map<PickKind, string> {
  const { entity, series } = state;
  const picked = new Map([...(series.get(pageOf(section)) ?? []), ...(series.get(section) ?? [])]);
  if (entity !== null && entity.fleet === fleetOf(section)) picked.set(entity.kind, entity.value);
  return picked;
}

/** A link within this very page is none that other pages can follow. */
function pageIn(href: string | null): string | null {
  if (href === null || !href.startsWith("#") || document.querySelector(".one-page") !== null) return href;
  return `${location.pathname.split("/").at(-1) ?? ""}${href}`;
}

/** Fades all marks of a chart but those of what is picked; a chart that has none of it stays as it is. */
function showIn({ element, view }: LiveChart): void {
  let changed = false;
  for (const pick of picksOf(element)) {
    const picked = pickedFor(element, pick.kind);
    const value = picked !== null && valuesIn(element, pick).has(picked) ? picked : null;
    if (view.signal(pick.param) === value) continue;
    view.signal(pick.param, value);
    changed = true;
  }
  if (changed) void view.runAsync();
}

/** A click on a mark picks what it is of, and a second one lets it go. */
function listenTo({ element, view }: LiveChart): void {
  const picks = picksOf(element);
  view.addEventListener("click", (_event, item) => {
    const datum = item?.datum as Record<string, unknown> | undefined;
    const found = picks
      .map(({ kind, field }) => ({ kind, value: namesIn(datum?.[field])[0] }))
      .find(({ value }) => value !== undefined);
    if (found?.value !== undefined) toggle(element, found.kind, found.value);
  });
}

function toggle(chart: Element, kind: PickKind, value: string): void {
  const again = pickedFor(chart, kind) === value;
  if (isOfFleet(kind)) pickEntity(again ? null : { fleet: fleetOf(chart), kind, value });
  else pickSeries(scopeOf(chart, kind), kind, again ? null : value);
}

/** Begins with what was picked on the page before, where it is of a fleet of this page. */
export function startPicking(): void {
  onLive((chart) => {
    if (picksOf(chart.element).length === 0) return;
    showIn(chart);
    listenTo(chart);
  });
  const kept = keptChoice();
  const fleets = new Set([...document.querySelectorAll("main")].map(fleetOf));
  if (kept !== null && fleets.has(kept.fleet)) {
    state.entity = kept;
    show();
  }
  addEventListener("keydown", (event) => {
    if (event.key === "Escape" && !event.defaultPrevented) clearPicked();
  });
}
