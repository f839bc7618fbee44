import { type ComponentChild, h } from "preact";
import type { FleetOverview } from "../src/questions/overview-types.ts";
import type { FleetRegister } from "../src/questions/register-types.ts";
import { type EntryKind, entriesPage } from "../src/report/entry-names.ts";
import { dossierPage, INDEX_PAGE } from "../src/report/page-names.ts";
import { BenchPage } from "./pages/bench-page.tsx";
import { BuildsPage } from "./pages/builds-page.tsx";
import { DataQualityPage } from "./pages/data-quality-page.tsx";
import { DossierPage } from "./pages/dossier-page.tsx";
import { EntriesPage } from "./pages/entries-page.tsx";
import { FleetPage } from "./pages/fleet-page.tsx";
import { IndexPage } from "./pages/index-page.tsx";
import { LifePage } from "./pages/life-page.tsx";
import { MethodsPage } from "./pages/methods-page.tsx";
import { OffendersPage } from "./pages/offenders-page.tsx";
import { SparesPage } from "./pages/spares-page.tsx";
import { PlacesOfPage } from "./parts/places.ts";
import type { PageInput, ReportInput } from "./report-input.ts";
import { entryList } from "./text/entry-list.ts";
import { entryPlaces, type PageOf } from "./text/entry-places.ts";
import { type FleetPageKind, pagesOfFleet, type SharedPageKind, sharedPages } from "./text/fleet-pages.ts";

/** A page to be written, made when its turn comes. */
export type PlannedPage = { name: string; make: () => ComponentChild };

/** A fleet with everything that is to be said of it; `register` is undefined where no frame of it is on record. */
export type WholeFleet = { fleet: FleetOverview; register: FleetRegister | undefined };

type OfFleet = { input: PageInput; fleet: FleetOverview };

const FLEET_PAGE: Record<Exclude<FleetPageKind, "frames" | "positions">, (props: OfFleet) => ComponentChild> = {
  fleet: (props) => h(FleetPage, props),
  life: (props) => h(LifePage, props),
  offenders: (props) => h(OffendersPage, props),
  builds: ({ input, fleet }) =>
    h(BuildsPage, { input, fleet, together: [], answers: fleet.builds, endPlay: fleet.endPlay }),
  bench: (props) => h(BenchPage, props),
};

const LISTS = { frames: "unit", positions: "position" } as const;

const SHARED_PAGE: Record<SharedPageKind, (input: ReportInput) => ComponentChild> = {
  spares: (input) => h(SparesPage, { input, answer: input.spares! }),
  allBuilds: (input) =>
    h(BuildsPage, {
      input,
      fleet: null,
      together: input.fleets,
      answers: input.builds,
      endPlay: input.fleets[0]?.endPlay ?? null,
    }),
  data: (input) => h(DataQualityPage, { input }),
  methods: (input) => h(MethodsPage, { input }),
};

/** The pages of all fleets together that have something to say, the index last. */
export function pagesOfAll(input: ReportInput): PlannedPage[] {
  return [
    ...sharedPages(input).map(({ kind, page }) => ({ name: page, make: () => SHARED_PAGE[kind](input) })),
    { name: INDEX_PAGE, make: () => h(IndexPage, { input }) },
  ];
}

/** The pages of one fleet that have something to say. */
export function pagesOfOne(input: PageInput, { fleet, register }: WholeFleet): PlannedPage[] {
  const pageOf = entryPlaces(fleet, register);
  const questions = pagesOfFleet(fleet, input).flatMap(({ kind, page }): PlannedPage[] => {
    if (kind !== "frames" && kind !== "positions") {
      return [{ name: page, make: () => placed(FLEET_PAGE[kind]({ input, fleet }), pageOf) }];
    }
    return register === undefined ? [] : listPages({ input, fleet, register, pageOf }, LISTS[kind]);
  });
  const dossiers = fleet.dossiers.map((dossier): PlannedPage => {
    const elsewhere: PageOf = (kind, id) => (kind === dossier.kind && id === dossier.id ? null : pageOf(kind, id));
    return {
      name: dossierPage(fleet.name, dossier.kind, dossier.id),
      make: () => placed(h(DossierPage, { input, fleet, dossier }), elsewhere),
    };
  });
  return [...questions, ...dossiers];
}

function listPages(of: OfFleet & { register: FleetRegister; pageOf: PageOf }, kind: EntryKind): PlannedPage[] {
  const { input, fleet, register, pageOf } = of;
  const list = entryList(fleet, register, kind);
  return list.parts.map((_, part) => ({
    name: entriesPage(fleet.name, kind, part + 1),
    make: () => placed(h(EntriesPage, { input, fleet, register, list, part }), pageOf),
  }));
}

function placed(page: ComponentChild, pageOf: PageOf): ComponentChild {
  return h(PlacesOfPage.Provider, { value: pageOf, children: page });
}
