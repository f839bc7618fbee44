import type { KeptChoice } from "./kept-choice.ts";
import { made } from "./made.ts";
import { clearPicked, onPicked, pickedEntity } from "./picking.ts";

const WORDS = { unit: "Frame", position: "Position" } as const;

/** A line at the foot of the window that says what is highlighted, leads to its page and lets it go. */
export function makePickedBar(): void {
  const said = made("span", {});
  const link = made("a", { text: "its page" });
  const clear = made("button", { text: "Clear" });
  clear.type = "button";
  const bar = made("div", { class: "picked", hidden: true }, said, link, clear, made("kbd", { text: "Esc" }));
  // Announced apart from the line, so that its link and its button are not read out with each change.
  const aloud = made("p", { class: "aloud" });
  aloud.setAttribute("role", "status");
  clear.addEventListener("click", () => clearPicked());
  document.body.append(bar, aloud);

  const follow = () => {
    const picked = pickedEntity();
    bar.hidden = picked === null;
    const words = picked === null ? "" : wordsOf(picked);
    said.textContent = words;
    const page = picked?.page ?? null;
    link.hidden = page === null || isThisPage(page);
    if (page !== null) link.setAttribute("href", page);
    aloud.textContent = words;
  };
  onPicked(follow);
  follow();
}

function wordsOf({ kind, value }: KeptChoice): string {
  return `${WORDS[kind]} ${value} is highlighted`;
}

function isThisPage(page: string): boolean {
  return location.pathname.split("/").at(-1) === page;
}
