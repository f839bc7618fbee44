/** Marks that an axis of half a page has room for. */
const MOST = 9;

const SPANS = [
  { of: (day: string) => day.slice(0, 7) },
  { of: (day: string) => `${day.slice(0, 4)}-Q${Math.ceil(Number(day.slice(5, 7)) / 3)}` },
  { of: (day: string) => day.slice(0, 4) },
  { of: (day: string) => `${day.slice(0, 3)}0s` },
];

/**
 * Where a new month, quarter, year or ten years begin in a row of days: the shortest of these of which the axis has room for all. Of one alone, and
 * where no days are known, the first day and the last.
 * @param days - YYYY-MM-DD in their order; null where not known
 * @returns places in the row, from 0, each with its words
 * @example dayTicks(["2023-12-30", "2024-01-02"]); // [{ at: 0, words: "2023-12" }, { at: 1, words: "2024-01" }]
 */
export function dayTicks(days: (string | null)[]): { at: number; words: string }[] {
  const dated = days.flatMap((day, at) => (day === null ? [] : [{ day, at }]));
  const ticks = SPANS.map(({ of }) =>
    dated.flatMap(({ day, at }, place) => {
      const before = dated[place - 1];
      return before === undefined || of(before.day) !== of(day) ? [{ at, words: of(day) }] : [];
    }),
  );
  const chosen = ticks.find((marks) => marks.length <= MOST) ?? ticks.at(-1) ?? [];
  if (chosen.length > 1) return chosen;
  return [...new Set([dated[0], dated.at(-1)])].flatMap((one) =>
    one === undefined ? [] : [{ at: one.at, words: one.day }],
  );
}
