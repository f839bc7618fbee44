import type { FieldCompleteness } from "../../src/questions/audit-types.ts";
import type {
  BenchAnswer,
  BenchAsBuilt,
  BenchGroup,
  BenchPoint,
  BenchShare,
  BenchSplit,
  BenchWindow,
  Comeback,
  ShimFlag,
} from "../../src/questions/bench-answer.ts";
import { readingBins } from "../../src/questions/reading-bins.ts";

/*
 * Answers of `bench` put together from plain formulas, so that pages and charts have something to show: never an expected value.
 */

const UNKNOWN = { estimate: null, low: null, high: null };

export function shareOf(count: number, of: number, reason = "no build has a reading"): BenchShare {
  if (of === 0) return { ...UNKNOWN, reason, count, of };
  const estimate = count / of;
  const reach = 1 / Math.sqrt(of);
  return { estimate, low: Math.max(0, estimate - reach), high: Math.min(1, estimate + reach), count, of };
}

function dayOf(at: number): string {
  return new Date(Date.UTC(2015, 0, 11) + at * 9 * 86_400_000).toISOString().slice(0, 10);
}

function pointOf(at: number, window: BenchWindow | null, unit: string): BenchPoint {
  const thou = Math.round((4.4 + 1.5 * Math.sin(at * 2.4) + 1.6 * Math.cos(at * 1.7)) * 4) / 4;
  const value = unit === "mm" ? Number((thou * 0.0254).toFixed(4)) : thou;
  return {
    value,
    on: dayOf(at),
    unit: `QF-${String(1 + (at % 40)).padStart(3, "0")}`,
    card: `C${at}`,
    outside: window === null ? null : value < window.low ? "below" : value > window.high ? "above" : null,
    range: at === 0 ? null : 0.5 + (at % 7) / 2,
    breaks: at % 40 === 39 ? ["8 in a row on one side"] : [],
  };
}

type Parts = { unit?: string; window?: BenchWindow | null };

/** As-built readings, `readings` in all. */
export function asBuiltOf(readings: number, { unit = "thou", window = DEFAULT }: Parts = {}): BenchAsBuilt {
  const all = Array.from({ length: readings }, (_, at) => pointOf(at, window, unit));
  const points = all.slice(-200);
  const outside = all.filter((point) => point.outside !== null).length;
  const scale = unit === "mm" ? 0.0254 : 1;
  return {
    unit,
    window,
    readings,
    below: all.filter((point) => point.outside === "below").length,
    above: all.filter((point) => point.outside === "above").length,
    outside: shareOf(outside, window === null ? 0 : readings, "no window is known to hold readings against"),
    mean: readings === 0 ? null : 4.4 * scale,
    sd: readings < 2 ? null : 1.5 * scale,
    histogram:
      readings === 0
        ? []
        : readingBins(
            Float64Array.from(all, ({ value }) => value),
            all.map((point) => point.outside),
            window === null ? null : window.high - window.low,
          ),
    chart: {
      limits:
        readings < 2
          ? null
          : {
              centre: 4.4 * scale,
              sigma: 1.7 * scale,
              low: -0.7 * scale,
              high: 9.5 * scale,
              range: { centre: 1.9 * scale, high: 6.2 * scale },
            },
      reason: readings < 2 ? "limits need two readings" : null,
      points,
      readings,
      breaks: points.filter(({ breaks }) => breaks.length > 0).length,
      breaksByChance: readings / 92,
      byRule: readings < 40 ? [] : [{ rule: "8 in a row on one side", readings: Math.floor(readings / 40) }],
    },
    betweenFitters:
      readings < 20
        ? null
        : {
            fitters: 5,
            readings,
            share: { estimate: 0.08, low: 0.01, high: 0.31 },
            betweenSd: 0.5,
            withinSd: 1.6,
            p: 0.0123,
          },
    betweenFittersReason: readings < 20 ? "a fitter has fewer than two readings" : null,
    copied: [],
  };
}

const DEFAULT: BenchWindow = { low: 2, high: 7, source: "common practice" };

/** Splits of months and quarters with some builds each, the last of them not followed far enough. */
export function splitsOf(months: number, buildsAMonth: number): BenchSplit[] {
  const names = Array.from({ length: months }, (_, at) => {
    const [year, month] = [2015 + Math.floor(at / 12), (at % 12) + 1];
    return { month: `${year}-${String(month).padStart(2, "0")}`, quarter: `${year}-Q${Math.ceil(month / 3)}` };
  });
  const split = (by: string, value: string, builds: number, at: number, last: boolean): BenchSplit => ({
    by,
    value,
    builds,
    readings: builds,
    mean: 4.4,
    outside: shareOf(at % 2, builds),
    comebacks: last
      ? { ...UNKNOWN, reason: "no build has been followed for 90 days", count: 0, of: builds }
      : shareOf(at % Math.min(3, builds + 1), builds),
  });
  const quarters = [...new Set(names.map(({ quarter }) => quarter))];
  return [
    ...names.map(({ month }, at) => split("month", month, buildsAMonth, at, at === months - 1)),
    ...quarters.map((quarter, at) =>
      split(
        "quarter",
        quarter,
        buildsAMonth * names.filter((name) => name.quarter === quarter).length,
        at,
        at === quarters.length - 1,
      ),
    ),
  ];
}

function comebackOf(at: number, more: Partial<Comeback> = {}): Comeback {
  return {
    unit: `QF-${String(1 + (at % 9)).padStart(3, "0")}`,
    position: at % 5 === 0 ? null : `P-${100 + at}`,
    card: `B${at}`,
    builtOn: dayOf(200 - at),
    installedOn: dayOf(201 - at),
    backOn: dayOf(206 - at),
    days: 45,
    endPlay: at % 7 === 0 ? null : 1.5 + (at % 8),
    outside: at % 8 === 6,
    failedSlot: "drive_end_seals",
    found: [
      { slot: "drive_end_seals", condition: "failed", damageMode: "lip_wear" },
      { slot: "shaft_sleeve", condition: "serviceable", damageMode: null },
    ],
    trace: `framelife trace saltmere/QF-001/${at}`,
    ...more,
  };
}

function shimFlagOf(at: number, more: Partial<ShimFlag> = {}): ShimFlag {
  return {
    card: `S${at}`,
    unit: "QF-007",
    on: dayOf(100 - at),
    expected: 3,
    reading: 5.5,
    difference: 2.5,
    from: "race depth and spigot height",
    trace: `framelife trace saltmere/S${at}`,
    ...more,
  };
}

function completeOf(field: string, records: number, have: number): FieldCompleteness {
  const share = records === 0 ? 0 : have / records;
  return {
    record: "rebuild",
    fleet: "saltmere",
    field,
    records,
    have,
    share,
    months: [{ month: "2023-06", records, have }],
  };
}

/** One fleet's bench with so many readings; with none, nothing is on record at all. */
export function benchGroupOf(readings = 240, { unit, window, ...more }: Parts & Partial<BenchGroup> = {}): BenchGroup {
  const some = readings > 0;
  const back = some ? 23 : 0;
  const parts = { ...(unit !== undefined && { unit }), ...(window !== undefined && { window }) };
  return {
    by: { fleet: "saltmere" },
    title: "Saltmere drainage stations",
    basis: { builds: readings + (some ? 12 : 0), readings, followed: readings, leftOut: {} },
    asBuilt: asBuiltOf(readings, parts),
    shims: {
      shims: "take_up",
      checked: some ? 180 : 0,
      lacking: some ? 72 : 0,
      allowed: { withDepth: 1.56, withPlay: 1.27 },
      gaugeSd: 0.3,
      meanDifference: some
        ? { estimate: 0.07, low: -0.04, high: 0.18 }
        : { ...UNKNOWN, reason: "fewer than two builds" },
      flagged: some ? Array.from({ length: 7 }, (_, at) => shimFlagOf(at)) : [],
      flaggedInAll: some ? 7 : 0,
    },
    comebacks: {
      limit: 90,
      share: shareOf(back, readings, "no build's time in service is known"),
      planned: 2,
      stillFollowed: 6,
      unknown: 0,
      unknownAsFailure: null,
      list: Array.from({ length: back }, (_, at) => comebackOf(at)),
    },
    splits: some ? splitsOf(30, 3) : [],
    completeness: some
      ? [completeOf("end_play", 252, 240), completeOf("lube", 252, 252), completeOf("speed", 252, 0)]
      : [],
    ...more,
  };
}

/** With fitters' codes nowhere: pages have no place for them. */
export function benchAnswerOf(group: BenchGroup = benchGroupOf(), more: Partial<BenchAnswer> = {}): BenchAnswer {
  return {
    schema: 1,
    command: "bench",
    answer: group.basis.builds === 0 ? "No build is on record." : "Some lie outside; some come back.",
    asOf: "2024-06-30",
    clock: null,
    level: 0.95,
    basis: group.basis,
    fitter: null,
    warnings: [],
    rows: `framelife query --as-of 2024-06-30 "select * from built where fleet = 'saltmere'"`,
    groups: [group],
    ...more,
  };
}

/** An answer in which every text that an export or a workspace gives is `text`. */
export function hostileBenchOf(text: string): BenchAnswer {
  const group = benchGroupOf(60);
  const { asBuilt, comebacks, shims } = group;
  const points = asBuilt.chart.points.map((point) => ({ ...point, unit: text, card: text }));
  const found = [{ slot: text, condition: text, damageMode: text }];
  const list = comebacks!.list.map((one) => ({
    ...one,
    ...{ unit: text, position: text, card: text, failedSlot: text, found, trace: text },
  }));
  return benchAnswerOf(
    {
      ...group,
      title: text,
      asBuilt: { ...asBuilt, chart: { ...asBuilt.chart, points }, window: { low: 2, high: 7, source: text } },
      comebacks: { ...comebacks!, list },
      shims: { ...shims!, flagged: [shimFlagOf(0, { card: text, unit: text, trace: text })] },
      completeness: [completeOf(text, 10, 5)],
    },
    { answer: text, warnings: [text], rows: text },
  );
}
