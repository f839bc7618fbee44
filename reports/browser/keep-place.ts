/** Where a reader was on a page: how far down, and what was folded open. */
type Place = { page: string; top: number; open: number[] };

const KEY = "framelife.place";

/** Keeps the reader's place over the next load of this page. */
export function keepPlace(): void {
  const open = folds().flatMap((fold, at) => (fold.open ? [at] : []));
  sessionStorage.setItem(KEY, JSON.stringify({ page: location.pathname, top: scrollY, open } satisfies Place));
}

/** Goes back to the place kept; charts that come to life later have the height of the drawings that they stand for. */
export function takePlace(): void {
  const kept = sessionStorage.getItem(KEY);
  sessionStorage.removeItem(KEY);
  if (kept === null) return;
  const { page, top, open } = JSON.parse(kept) as Place;
  if (page !== location.pathname) return;
  const all = folds();
  for (const at of open) if (all[at] !== undefined) all[at].open = true;
  scrollTo({ top, behavior: "instant" });
}

function folds(): HTMLDetailsElement[] {
  return [...document.querySelectorAll("details")];
}
