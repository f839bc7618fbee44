import { useContext } from "preact/hooks";
import { standsOut } from "../../src/questions/offenders.ts";
import type { EntryKind } from "../../src/report/entry-names.ts";
import type { FleetInShort } from "../fleet-in-short.ts";
import { namedIn } from "../text/named-in.ts";
import { PlacesOfPage } from "./places.ts";

/** Names that a sentence can be about, of each kind: those that stand out, and after them the first in order. */
const NEAREST = 5;

/** A sentence in which frames and positions that it names lead to where more is said of them. */
export function Linked({ text, fleet }: { text: string; fleet: FleetInShort }) {
  const pageOf = useContext(PlacesOfPage);
  return (
    <>
      {namedIn(text, namesOf(fleet)).map(({ text: stretch, names }) => {
        const page = names === null ? null : pageOf(names.kind, names.id);
        return page === null ? stretch : <a href={page}>{stretch}</a>;
      })}
    </>
  );
}

type Named = { kind: EntryKind; id: string };
type Offenders = FleetInShort["offenders"];

/** By fleet: there are many sentences to one. */
const known = new WeakMap<Offenders, Named[]>();

function namesOf({ offenders }: FleetInShort): Named[] {
  const names = known.get(offenders) ?? [...telling("unit", offenders), ...telling("position", offenders)];
  known.set(offenders, names);
  return names;
}

function telling(kind: EntryKind, offenders: Offenders): Named[] {
  const { entities } = offenders[kind];
  const out = entities.filter(standsOut);
  const beyond = entities
    .filter((entity) => !standsOut(entity))
    .toSorted((one, other) => other.events - other.expected - (one.events - one.expected))
    .slice(0, NEAREST);
  return [...out, ...beyond].map(({ id }) => ({ kind, id }));
}
