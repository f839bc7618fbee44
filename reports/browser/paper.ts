import { keepPaper, keptPaper, onPaperKept, type Paper } from "./kept-paper.ts";
import { type PaperChoice, paperChoice } from "./paper-choice.ts";

/** Lays the page on light or dark paper; with neither said, the style sheet follows the system. */
function lay(paper: Paper): void {
  if (paper === "system") delete document.documentElement.dataset["paper"];
  else document.documentElement.dataset["paper"] = paper;
}

/** A choice in each foot: a file of all pages has several. */
function makeChoices(): void {
  const choices: PaperChoice[] = [];
  const show = (paper: Paper) => {
    lay(paper);
    for (const choice of choices) choice.show(paper);
  };
  for (const [at, foot] of document.querySelectorAll("footer").entries()) {
    const choice = paperChoice(`paper-${at}`, (paper) => {
      keepPaper(paper);
      show(paper);
    });
    choices.push(choice);
    foot.prepend(choice.element);
  }
  show(keptPaper());
  onPaperKept(show);
}

// Before anything is drawn, so that no page flashes up on the other paper
lay(keptPaper());
addEventListener("DOMContentLoaded", makeChoices);
