import { type Stream, streamOf } from "../../src/stats/random/stream.ts";

/** A drawn set of lives, a row each, beside what a comparison needs: groups, and the cause of each exact failure (-1: none). */
export type DataSet = {
  number: number;
  style: Style;
  low: Float64Array;
  high: Float64Array;
  entry: Float64Array;
  count: Float64Array;
  group: Int32Array;
  groups: number;
  cause: Int32Array;
  causes: number;
};

/** How the lives of a set are watched. */
type Style = (typeof STYLES)[number];

const STYLES = [
  "all failed",
  "removed at random",
  "stopped on one day",
  "counts",
  "ties",
  "failed before first look",
  "looked at now and then",
  "all kinds",
  "late entry",
  "late entry, ties and counts",
  "late entry, looked at now and then",
] as const;

export const SEED = 20_261_126;
const SMALLEST = 2;
const LARGEST = 2000;

/** The set of a number; its size, unit, law and watching all come of the number and the seed. */
export function dataSet(number: number): DataSet {
  const stream = streamOf(SEED, number);
  const style = STYLES[number % STYLES.length]!;
  const unit = 10 ** (-6 + 15 * stream.uniform());
  const groups = 2 + stream.below(5);
  const causes = 2 + stream.below(3);
  const draw = drawLife(style, law(stream), unit, stream);
  const lives = Array.from({ length: sizeOf(number, stream) }, draw);
  const column = (pick: (life: Life) => number) => Float64Array.from(lives, pick);
  const exact = (life: Life) => life.low === life.high;
  return {
    number,
    style,
    low: column((life) => life.low),
    high: column((life) => life.high),
    entry: column((life) => life.entry),
    count: column((life) => life.count),
    group: Int32Array.from(lives, () => stream.below(groups)),
    groups,
    cause: Int32Array.from(lives, (life) => (exact(life) ? stream.below(causes) : -1)),
    causes,
  };
}

/** Each style once with the fewest and once with the most lives, then sizes of every order between. */
function sizeOf(number: number, stream: Stream): number {
  const share = stream.uniform();
  if (number < STYLES.length) return SMALLEST;
  if (number < 2 * STYLES.length) return LARGEST;
  return Math.round(SMALLEST * (LARGEST / SMALLEST) ** share);
}

/** Ages on a scale where the typical one is 1. */
function law(stream: Stream): () => number {
  const shape = 0.5 * 10 ** stream.uniform();
  const within = () => 1 - stream.uniform();
  const laws = [
    () => (-Math.log(within())) ** (1 / shape),
    () => Math.exp((Math.sqrt(-2 * Math.log(within())) * Math.cos(2 * Math.PI * stream.uniform())) / shape),
    () => (1 / within() - 1 + Number.EPSILON) ** (1 / shape),
    () => -Math.log(within()) - Math.log(within()),
  ];
  return laws[stream.below(laws.length)]!;
}

type Life = { low: number; high: number; entry: number; count: number };

function drawLife(style: Style, age: () => number, unit: number, stream: Stream): () => Life {
  const typical = 0.3 * 10 ** stream.uniform();
  const removal = () => -typical * Math.log(1 - stream.uniform());
  const tick = 10 ** Math.round(Math.log10(unit) - 1);
  const onTick = (time: number) => Number((Math.ceil((time * unit) / tick) * tick).toPrecision(12));
  const endless = Number.POSITIVE_INFINITY;
  const ended = (time: number, until: number): Life =>
    time <= until ? life(time * unit, time * unit) : life(until * unit, endless);
  const looked = (time: number, from: number): Life => {
    const gap = 0.1 + 0.4 * stream.uniform();
    const looks = 1 + stream.below(8);
    const before = Math.floor((time - from) / gap);
    if (before >= looks) return life((from + looks * gap) * unit, endless);
    return life((from + before * gap) * unit, (from + (before + 1) * gap) * unit);
  };
  const later = (typicalEntry: number) => {
    for (;;) {
      const entry = stream.below(3) === 0 ? 0 : typicalEntry * stream.uniform();
      const time = age();
      if (time > entry) return { entry, time };
    }
  };
  switch (style) {
    case "all failed":
      return () => ended(age(), endless);
    case "removed at random":
      return () => ended(age(), removal());
    case "stopped on one day":
      return () => ended(age(), typical);
    case "counts":
      return () => ({ ...ended(age(), removal()), count: 1 + stream.below(20) });
    case "ties":
      return () => onTicks(ended(age(), removal()), onTick, unit);
    case "failed before first look":
      return () => {
        const first = typical * stream.uniform();
        const time = age();
        return time <= first ? life(0, first * unit) : ended(time, first + removal());
      };
    case "looked at now and then":
      return () => looked(age(), 0);
    case "all kinds":
      return () => (stream.below(2) === 0 ? ended(age(), removal()) : looked(age(), 0));
    case "late entry":
      return () => {
        const { entry, time } = later(typical);
        return { ...ended(time, entry + removal()), entry: entry * unit };
      };
    case "late entry, ties and counts":
      return () => {
        const { entry, time } = later(typical);
        const seen = onTicks(ended(time, entry + removal()), onTick, unit);
        const start = Math.floor((entry * unit) / tick) * tick;
        return { ...seen, entry: Number(start.toPrecision(12)), count: 1 + stream.below(5) };
      };
    case "late entry, looked at now and then":
      return () => {
        const { entry, time } = later(typical);
        return { ...looked(time, entry), entry: entry * unit };
      };
  }
}

function life(low: number, high: number): Life {
  return { low, high, entry: 0, count: 1 };
}

function onTicks({ low, high, ...rest }: Life, onTick: (time: number) => number, unit: number): Life {
  const end = onTick(low / unit);
  return { ...rest, low: end, high: high === low ? end : high };
}
