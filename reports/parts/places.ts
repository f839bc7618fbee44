import { createContext } from "preact";
import { useContext } from "preact/hooks";
import type { EntryKind } from "../../src/report/entry-names.ts";
import type { PageOf } from "../text/entry-places.ts";

/** Where the page being made can lead to for a frame or a position; nowhere unless it is of a fleet. */
export const PlacesOfPage = createContext<PageOf>(() => null);

/** The page, or the place on one, of each frame or position of the page's fleet. */
export function usePageOf(kind: EntryKind): (id: string) => string | null {
  const pageOf = useContext(PlacesOfPage);
  return (id) => pageOf(kind, id);
}
