import { entriesPage } from "../../src/report/entry-names.ts";
import {
  benchPage,
  buildsPage,
  DATA_QUALITY_PAGE,
  fleetPage,
  lifePage,
  METHODS_PAGE,
  offendersPage,
  SPARES_PAGE,
} from "../../src/report/page-names.ts";
import type { FleetInShort } from "../fleet-in-short.ts";
import type { PageInput } from "../report-input.ts";

/** A page as others lead to it. */
export type PageLink = { title: string; page: string };

type FleetPageRow = {
  /** What it is called beside its siblings. */
  title: string;
  /** What it is called in a sentence of another page. */
  leads: string;
  file: (fleet: string) => string;
  /** Whether it has something to say: else it is not made, and nothing leads to it. */
  says: (fleet: FleetInShort, input: PageInput) => boolean;
};

/** The pages of a fleet in their order. */
const FLEET_PAGES = {
  fleet: { title: "In short", leads: "the fleet in short", file: fleetPage, says: isOnRecord },
  life: {
    title: "Lives",
    leads: "its lives slot by slot",
    file: lifePage,
    says: ({ life }) => life.groups.length > 0,
  },
  offenders: {
    title: "Who comes back",
    leads: "who comes back too often",
    file: offendersPage,
    says: ({ offenders: { unit, position } }) => unit.entities.length + position.entities.length > 0,
  },
  builds: {
    title: "Which builds last",
    leads: "which builds last longer",
    file: buildsPage,
    says: ({ builds }) => builds.length > 0,
  },
  bench: { title: "At the bench", leads: "at the bench", file: benchPage, says: ({ bench }) => benchSays(bench) },
  frames: {
    title: "Frames",
    leads: "every frame with its builds",
    file: (fleet) => entriesPage(fleet, "unit"),
    says: ({ name }, { register }) => (register.get(name)?.frames.length ?? 0) > 0,
  },
  positions: {
    title: "Positions",
    leads: "every position",
    file: (fleet) => entriesPage(fleet, "position"),
    says: ({ name }, { register }) => (register.get(name)?.positions.length ?? 0) > 0,
  },
} as const satisfies Record<string, FleetPageRow>;

export type FleetPageKind = keyof typeof FLEET_PAGES;

type SharedPageRow = { title: string; leads: string; file: string; says: (input: PageInput) => boolean };

/** The pages about all fleets together, beside the index. */
export const SHARED_PAGES = {
  spares: {
    title: "Spares",
    leads: "what to order, and what all fleets together will use",
    file: SPARES_PAGE,
    says: ({ spares }) => spares !== null,
  },
  allBuilds: {
    title: "Which builds last, all fleets",
    leads: "which builds last longer, all fleets together",
    file: buildsPage(null),
    says: ({ builds }) => builds.length > 0,
  },
  data: { title: "Data quality", leads: "data quality", file: DATA_QUALITY_PAGE, says: () => true },
  methods: { title: "Methods", leads: "how the figures are made", file: METHODS_PAGE, says: () => true },
} as const satisfies Record<string, SharedPageRow>;

export type SharedPageKind = keyof typeof SHARED_PAGES;

/** The pages of a fleet that have something to say, by their kind. */
export function pagesOfFleet(
  fleet: FleetInShort,
  input: PageInput,
): (PageLink & { kind: FleetPageKind; leads: string })[] {
  return (Object.entries(FLEET_PAGES) as [FleetPageKind, FleetPageRow][])
    .filter(([, { says }]) => says(fleet, input))
    .map(([kind, { title, leads, file }]) => ({ kind, title, leads, page: file(fleet.name) }));
}

/** The pages about all fleets together that have something to say. */
export function sharedPages(input: PageInput): (PageLink & { kind: SharedPageKind; leads: string })[] {
  return (Object.entries(SHARED_PAGES) as [SharedPageKind, SharedPageRow][])
    .filter(([, { says }]) => says(input))
    .map(([kind, { title, leads, file }]) => ({ kind, title, leads, page: file }));
}

/** Whether anything at all is on record of a fleet. */
function isOnRecord({ name, life, intervals, size, offenders }: FleetInShort, { register }: PageInput): boolean {
  return (
    life.groups.length + intervals.groups.length + size.units > 0 ||
    offenders.unit.entities.length > 0 ||
    (register.get(name)?.frames.length ?? 0) > 0
  );
}

/** A bench says something by its readings, by what came back to it, or by shims that are off. */
function benchSays({ groups: [group] }: FleetInShort["bench"]): boolean {
  if (group === undefined) return false;
  const { basis, comebacks, shims } = group;
  return basis.readings > 0 || (comebacks?.list.length ?? 0) > 0 || (shims?.flaggedInAll ?? 0) > 0;
}
