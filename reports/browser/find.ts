import { FindBox } from "./find-box.ts";
import { openTarget } from "./find-go.ts";
import { makeSortable } from "./find-sort.ts";

const boxes = [...document.querySelectorAll<HTMLElement>(".find")].map((place) => new FindBox(place));

/** The key "/" leads to the box; in a single file to that of the page in sight. */
addEventListener("keydown", (event) => {
  if (event.key !== "/" || event.ctrlKey || event.metaKey || event.altKey || isTyping(event.target)) return;
  const box = boxInSight();
  if (box === undefined) return;
  event.preventDefault();
  box.focus();
});

addEventListener("hashchange", openTarget);
openTarget();

for (const table of document.querySelectorAll<HTMLTableElement>("table.fleets")) makeSortable(table);

function isTyping(target: EventTarget | null): boolean {
  return target instanceof HTMLElement && (target.isContentEditable || target.matches("input, textarea, select"));
}

function boxInSight(): FindBox | undefined {
  const begun = boxes.filter(({ place }) => {
    const page = place.closest("article.one-page");
    return page === null || page.getBoundingClientRect().top < innerHeight / 2;
  });
  return begun.at(-1) ?? boxes[0];
}
