import type { Figure, Refused } from "./figures.ts";
import { allowedDifference, type Kind } from "./kinds.ts";

/** A figure that R worked out. */
export type PeerFigure = { kind: Kind; peer: string; name: string; value: number };

/** One figure beside another; the difference is in units of ours, and null where one of the two is missing. */
export type Compared = {
  kind: Kind;
  peer: string;
  name: string;
  own: number | null;
  other: number | null;
  difference: number | null;
  agrees: boolean;
};

/**
 * Puts figures of one set side by side. A figure without a counterpart disagrees, but for laws that we refuse: there R may have stopped
 * anywhere, unless it found a clear maximum of a likelihood that we say has none.
 */
export function compared(own: Map<Kind, Figure[]>, peers: PeerFigure[], refused: Refused[]): Compared[] {
  const figures = new Map<string, Figure>();
  for (const [kind, list] of own) for (const figure of list) figures.set(`${kind} ${figure.name}`, figure);
  const met = new Set<string>();
  const pairs = peers.flatMap((peer) => {
    const key = `${peer.kind} ${peer.name}`;
    const figure = figures.get(key);
    met.add(key);
    if (figure === undefined && refused.some(({ family }) => peer.name.startsWith(`${family} `))) return [];
    return [pair(peer, figure)];
  });
  const alone = Array.from(own).flatMap(([kind, list]) =>
    list.filter(({ name }) => !met.has(`${kind} ${name}`)).map(({ name, value }) => missing(kind, name, value)),
  );
  return [...pairs, ...alone, ...maximaFound(refused, peers)];
}

/** Variance below which a log scale or log shape is known: both make a clear maximum. */
const KNOWN = 1;

function maximaFound(refused: Refused[], peers: PeerFigure[]): Compared[] {
  return refused
    .filter(({ searched }) => searched)
    .flatMap(({ family }) => {
      const variances = peers.filter(({ name }) => name.startsWith(`${family} var `));
      const clear = variances.length > 0 && variances.every(({ value }) => value > 0 && value < KNOWN);
      return clear ? variances.slice(0, 1).map((peer) => pair(peer, undefined)) : [];
    });
}

function pair({ kind, peer, name, value: other }: PeerFigure, figure: Figure | undefined): Compared {
  if (figure === undefined) return { kind, peer, name, own: null, other, difference: null, agrees: false };
  const difference = Math.abs(figure.value - other) / figure.unit;
  return {
    kind,
    peer,
    name,
    own: figure.value,
    other,
    difference,
    agrees: difference <= allowedDifference(kind, peer),
  };
}

function missing(kind: Kind, name: string, own: number): Compared {
  return { kind, peer: "none", name, own, other: null, difference: null, agrees: false };
}
