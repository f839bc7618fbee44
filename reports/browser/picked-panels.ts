/** Marks the small charts that are of one part, by their titles; none where nothing is picked. */
export function markPanels(section: Element, part: string | null): void {
  for (const panel of section.querySelectorAll(".panel")) {
    const name = panel.querySelector(".panel-title strong")?.textContent;
    panel.classList.toggle("is-picked", part !== null && name === part);
  }
}
