import { PAPERS, type Paper } from "./kept-paper.ts";

const WORDS = { system: "as the system", light: "light", dark: "dark" } as const;

/** One of several papers to be chosen. */
export type PaperChoice = { element: HTMLElement; show: (paper: Paper) => void };

/** Makes a choice of paper; `name` tells those of one document apart, `choose` is told of what is chosen. */
export function paperChoice(name: string, choose: (paper: Paper) => void): PaperChoice {
  const element = document.createElement("fieldset");
  element.className = "paper-choice";
  const legend = document.createElement("legend");
  legend.textContent = "Paper";
  element.append(legend);
  const inputs = PAPERS.map((paper) => {
    const input = document.createElement("input");
    Object.assign(input, { type: "radio", name, value: paper });
    input.addEventListener("change", () => choose(paper));
    const label = document.createElement("label");
    label.append(input, WORDS[paper]);
    element.append(label);
    return input;
  });
  const show = (paper: Paper) => {
    for (const input of inputs) input.checked = input.value === paper;
  };
  return { element, show };
}
