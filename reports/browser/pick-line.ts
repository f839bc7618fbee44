import { made } from "./made.ts";

/** The line of choices at the head of a page, made when it is first asked for. */
export function pickLine(main: Element): HTMLElement {
  const there = main.querySelector<HTMLElement>(":scope > .picks");
  if (there !== null) return there;
  const line = made("div", { class: "picks" });
  main.prepend(line);
  return line;
}
