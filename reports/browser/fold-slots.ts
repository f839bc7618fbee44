import { made } from "./made.ts";
import { pickLine } from "./pick-line.ts";

/** Ids of the sections that are about one slot each; in a file of all pages with the number of theirs before it. */
const SLOT = /^(page-\d+-)?slot-\d+$/;

/** Puts a choice of slots at the head of each page that has a section for each: the sections of the others are folded away. */
export function makeSlotFolding(): void {
  for (const main of document.querySelectorAll("main")) {
    const sections = [...main.querySelectorAll<HTMLElement>("section[id]")].filter(({ id }) => SLOT.test(id));
    if (sections.length > 1) foldIn(main, sections);
  }
}

function foldIn(main: Element, sections: HTMLElement[]): void {
  const names = sections.map((section) => section.querySelector("h2")?.textContent ?? "");
  const select = made("select", {}, ...["all", ...names].map((text) => made("option", { text })));
  const aloud = made("p", { class: "aloud" });
  aloud.setAttribute("role", "status");
  const show = (place: number) => {
    select.selectedIndex = place;
    for (const [at, section] of sections.entries()) section.hidden = place > 0 && at !== place - 1;
    aloud.textContent = place === 0 ? "All slots are shown" : `Of the slots ${names[place - 1]} alone is shown`;
  };
  select.addEventListener("change", () => show(select.selectedIndex));
  const label = made("label", {}, made("span", { text: "Show slot" }), select);
  pickLine(main).prepend(label, aloud);
  // Whoever follows a link to what is folded away wants to see it.
  addEventListener("hashchange", () => {
    const target = document.getElementById(decodeURIComponent(location.hash.slice(1)));
    const folded = target?.closest<HTMLElement>("section[hidden]");
    if (target === null || folded === undefined || folded === null || !sections.includes(folded)) return;
    show(0);
    target.scrollIntoView();
  });
}
