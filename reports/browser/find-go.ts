/** Where a place of the report lies from here: in a single file every page is an article in it. */
export function hrefOf(place: string): string {
  const [page = "", anchor] = place.split("#");
  const article = document.querySelector(`article[data-page="${CSS.escape(page)}"]`);
  if (article === null) return place;
  return `#${article.id}${anchor === undefined ? "" : `-${anchor}`}`;
}

/** Opens the builds of the entry that the address names: whoever comes for one frame need not unfold it. */
export function openTarget(): void {
  const id = decodedHash();
  const target = id === "" ? null : document.getElementById(id);
  if (target === null || !target.classList.contains("entry")) return;
  for (const details of target.querySelectorAll("details")) details.open = true;
  target.scrollIntoView();
  target.tabIndex = -1;
  target.focus({ preventScroll: true });
}

function decodedHash(): string {
  try {
    return decodeURIComponent(location.hash.slice(1));
  } catch {
    return "";
  }
}
