export const PAPERS = ["system", "light", "dark"] as const;

/** What pages are drawn on: as the system wishes, or as the reader chose. */
export type Paper = (typeof PAPERS)[number];

/** All pages from disk share one store, so each folder of pages has its own key. */
const KEY = `framelife.paper:${location.pathname.replace(/[^/]*$/, "")}`;

/** The paper chosen for the pages of this folder; the system's where none was, or nothing may be kept. */
export function keptPaper(): Paper {
  try {
    return paperOf(localStorage.getItem(KEY));
  } catch {
    return "system";
  }
}

/** Keeps the choice, where the browser lets a page from disk keep anything. */
export function keepPaper(paper: Paper): void {
  try {
    if (paper === "system") localStorage.removeItem(KEY);
    else localStorage.setItem(KEY, paper);
  } catch {
    // The choice then holds for this page alone.
  }
}

/** Tells of a choice made on another page of this folder. */
export function onPaperKept(tell: (paper: Paper) => void): void {
  addEventListener("storage", ({ key, newValue }) => {
    if (key === KEY) tell(paperOf(newValue));
  });
}

function paperOf(text: string | null): Paper {
  return PAPERS.find((paper) => paper === text) ?? "system";
}
