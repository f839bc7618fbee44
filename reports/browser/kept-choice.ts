/** The frame or position picked, kept from page to page while the window is open. */
export type KeptChoice = { fleet: string; kind: "unit" | "position"; value: string; page: string | null };

const KEY = "framelife.picked";

/** What was picked on the page before. A window that keeps nothing, or something else, is a window where nothing is picked. */
export function keptChoice(): KeptChoice | null {
  try {
    const kept: unknown = JSON.parse(sessionStorage.getItem(KEY) ?? "null");
    return isChoice(kept) ? kept : null;
  } catch {
    return null;
  }
}

export function keepChoice(choice: KeptChoice | null): void {
  try {
    if (choice === null) sessionStorage.removeItem(KEY);
    else sessionStorage.setItem(KEY, JSON.stringify(choice));
  } catch {
    // Without a store the choice holds for this page alone.
  }
}

function isChoice(kept: unknown): kept is KeptChoice {
  if (typeof kept !== "object" || kept === null) return false;
  const { fleet, kind, value, page } = kept as Record<string, unknown>;
  return (
    typeof fleet === "string" &&
    (kind === "unit" || kind === "position") &&
    typeof value === "string" &&
    // A link that is followed leads to a page beside this one and nowhere else.
    (page === null || (typeof page === "string" && /^[\w.-]*(#[\w%.-]*)?$/.test(page)))
  );
}
