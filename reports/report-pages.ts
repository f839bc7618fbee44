import { type ComponentChild, h } from "preact";
import type { FleetOverview } from "../src/questions/overview-types.ts";
import type { BuildsOfFleet, FleetRegister } from "../src/questions/register-types.ts";
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
import type { ReportInput } from "./report-input.ts";
import { entryParts } from "./text/entry-parts.ts";
import { entryPlaces, type PageOf } from "./text/entry-places.ts";
import { type FleetPageKind, pagesOfFleet, type SharedPageKind, sharedPages } from "./text/fleet-pages.ts";

/** A page to be written, made when its turn comes. */
export type PlannedPage = { name: string; make: () => Promise<ComponentChild> };

type OfFleet = { input: ReportInput; fleet: FleetOverview };

const FLEET_PAGE: Record<Exclude<FleetPageKind, "frames" | "positions">, (props: OfFleet) => ComponentChild> = {
  fleet: (props) => h(FleetPage, props),
  life: (props) => h(LifePage, props),
  offenders: (props) => h(OffendersPage, props),
  builds: (props) => h(BuildsPage, props),
  bench: (props) => h(BenchPage, props),
};

const LISTS = { frames: "unit", positions: "position" } as const;

const SHARED_PAGE: Record<SharedPageKind, (input: ReportInput) => ComponentChild> = {
  spares: (input) => h(SparesPage, { input, answer: input.spares! }),
  allBuilds: (input) => h(BuildsPage, { input, fleet: null }),
  data: (input) => h(DataQualityPage, { input }),
  methods: (input) => h(MethodsPage, { input }),
};

/** Every page that has something to say, the index last: it leads to the others, which are there by then. */
export function reportPages(input: ReportInput): PlannedPage[] {
  return [
    ...input.fleets.flatMap((fleet) => fleetPages({ input, fleet })),
    ...sharedPages(input).map(({ kind, page }) => ({ name: page, make: async () => SHARED_PAGE[kind](input) })),
    { name: INDEX_PAGE, make: async () => h(IndexPage, { input }) },
  ];
}

function fleetPages({ input, fleet }: OfFleet): PlannedPage[] {
  const register = input.register.get(fleet.name);
  let known: PageOf | undefined;
  // Made with the fleet's first page, not for all fleets beforehand.
  const pageOf: PageOf = (kind, id) => {
    known ??= entryPlaces(fleet, register);
    return known(kind, id);
  };
  const questions = pagesOfFleet(fleet, input).flatMap(({ kind, page }): PlannedPage[] => {
    if (kind !== "frames" && kind !== "positions") {
      return [{ name: page, make: async () => placed(FLEET_PAGE[kind]({ input, fleet }), pageOf) }];
    }
    return register === undefined ? [] : listPages({ input, fleet, register, pageOf }, LISTS[kind]);
  });
  const dossiers = fleet.dossiers.map((dossier): PlannedPage => {
    const elsewhere: PageOf = (kind, id) => (kind === dossier.kind && id === dossier.id ? null : pageOf(kind, id));
    return {
      name: dossierPage(fleet.name, dossier.kind, dossier.id),
      make: async () => placed(h(DossierPage, { input, fleet, dossier }), elsewhere),
    };
  });
  return [...questions, ...dossiers];
}

function listPages(of: OfFleet & { register: FleetRegister; pageOf: PageOf }, kind: EntryKind): PlannedPage[] {
  const { input, fleet, register, pageOf } = of;
  const entries = kind === "unit" ? register.frames : register.positions;
  const parts = entryParts(entries);
  let builds: Promise<BuildsOfFleet | null> | undefined;
  return parts.map((_, part) => ({
    name: entriesPage(fleet.name, kind, part + 1),
    make: async () => {
      builds ??= register.readBuilds();
      const own = await builds;
      // Of one fleet at a time: the builds of all would fill memory.
      if (part === parts.length - 1) builds = undefined;
      return placed(h(EntriesPage, { input, fleet, register, kind, part, builds: own }), pageOf);
    },
  }));
}

function placed(page: ComponentChild, pageOf: PageOf): ComponentChild {
  return h(PlacesOfPage.Provider, { value: pageOf, children: page });
}
