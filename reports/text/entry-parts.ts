/** What one page has room for: entries, and builds in them together. */
const MOST_ENTRIES = 250;
const MOST_BUILDS = 1500;

/** The entries of one page of a list: from the one at `from` up to, not with, the one at `to`. */
export type EntryPart = { from: number; to: number };

/** How a list of frames, or of positions, is laid over pages; in their order, each with at least one. */
export function entryParts(entries: { builds: number }[]): EntryPart[] {
  const parts: EntryPart[] = [];
  let builds = 0;
  entries.forEach((entry, at) => {
    const part = parts.at(-1);
    builds += entry.builds;
    if (part !== undefined && at - part.from < MOST_ENTRIES && builds <= MOST_BUILDS) {
      part.to = at + 1;
      return;
    }
    parts.push({ from: at, to: at + 1 });
    builds = entry.builds;
  });
  return parts;
}
