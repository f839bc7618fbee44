import { hrefOf, openTarget } from "./find-go.ts";
import { loadFinder } from "./find-load.ts";
import type { Found, FoundNames } from "./find-match.ts";
import { made } from "./made.ts";

/** Results that fit under the box. */
const MOST = 12;

let boxes = 0;

/** The box that finds frames, positions and pages: a combobox with a list of links' places, for pointer and keyboard alike. */
export class FindBox {
  readonly place: HTMLElement;
  readonly #input: HTMLInputElement;
  readonly #list: HTMLUListElement;
  readonly #says: HTMLParagraphElement;
  readonly #id = `find-${++boxes}`;
  #shown: Found[] = [];
  #chosen = -1;
  /** What was typed last: an answer to what was typed before it comes too late. */
  #asked = 0;

  constructor(place: HTMLElement) {
    this.place = place;
    const label = made("label", { text: "Find a frame, a position or a page" });
    label.htmlFor = this.#id;
    this.#input = document.createElement("input");
    this.#list = document.createElement("ul");
    this.#says = made("p", {});
    this.#makeInput();
    this.#makeList();
    this.#says.setAttribute("role", "status");
    const key = made("kbd", { text: "/" });
    key.title = "The key / leads here";
    const field = made("div", { class: "find-field" }, this.#input, key, this.#says);
    place.setAttribute("role", "search");
    place.append(label, field, this.#list);
    place.hidden = false;
  }

  focus(): void {
    this.#input.focus();
    this.#input.select();
  }

  #makeInput(): void {
    const input = this.#input;
    const attributes = {
      id: this.#id,
      type: "text",
      role: "combobox",
      autocomplete: "off",
      autocapitalize: "none",
      spellcheck: "false",
      enterkeyhint: "go",
      "aria-autocomplete": "list",
      "aria-expanded": "false",
      "aria-controls": `${this.#id}-list`,
    };
    for (const [name, value] of Object.entries(attributes)) input.setAttribute(name, value);
    // The names are asked for while the first of them is being typed.
    input.addEventListener("focus", () => void loadFinder().catch(() => {}));
    input.addEventListener("input", () => void this.#find());
    input.addEventListener("keydown", (event) => this.#onKey(event));
    input.addEventListener("blur", () => this.#close());
  }

  #makeList(): void {
    this.#list.id = `${this.#id}-list`;
    this.#list.setAttribute("role", "listbox");
    this.#list.setAttribute("aria-label", "Found");
    this.#list.hidden = true;
    // Pressed, not clicked: the box would lose the focus, and the list with it, before the click.
    this.#list.addEventListener("pointerdown", (event) => event.preventDefault());
    this.#list.addEventListener("click", (event) => {
      const option = (event.target as Element).closest("[role=option]");
      const at = option === null ? -1 : [...this.#list.children].indexOf(option);
      if (at >= 0) this.#go(at, event.ctrlKey || event.metaKey);
    });
  }

  async #find(): Promise<void> {
    const asked = ++this.#asked;
    const text = this.#input.value;
    try {
      const found = (await loadFinder()).find(text, MOST);
      if (asked === this.#asked) this.#show(found, text.trim() !== "");
    } catch (error) {
      this.#close();
      this.#says.textContent = `${(error as Error).message}; the pages of frames and positions list them all`;
      this.#says.classList.add("fault");
    }
  }

  #show({ best, inAll }: FoundNames, sought: boolean): void {
    this.#shown = best;
    this.#list.replaceChildren(...best.map((found, at) => this.#option(found, at)));
    this.#open(best.length > 0);
    this.#choose(best.length > 0 ? 0 : -1);
    this.#says.textContent = saidOf(best.length, inAll, sought);
    this.#says.classList.remove("fault");
  }

  #option({ what, name, fleet, standing }: Found, at: number): HTMLLIElement {
    const option = document.createElement("li");
    option.id = `${this.#id}-${at}`;
    option.setAttribute("role", "option");
    option.append(
      made("strong", { text: name }),
      made("span", { text: [what === "page" ? null : what, fleet].filter((part) => part !== null).join(", ") }),
    );
    if (standing !== null) option.append(made("em", { text: standing }));
    return option;
  }

  #onKey(event: KeyboardEvent): void {
    if (event.isComposing) return;
    const last = this.#shown.length - 1;
    const open = !this.#list.hidden;
    const moves: Record<string, () => void> = {
      ArrowDown: () => (open ? this.#choose(this.#chosen >= last ? 0 : this.#chosen + 1) : this.#reopen()),
      ArrowUp: () => (open ? this.#choose(this.#chosen <= 0 ? last : this.#chosen - 1) : this.#reopen()),
      Enter: () => open && this.#go(this.#chosen, event.ctrlKey || event.metaKey),
      Escape: () => this.#onEscape(),
    };
    const move = moves[event.key];
    if (move === undefined) return;
    event.preventDefault();
    move();
  }

  /** First the list, then what was typed, then out of the box. */
  #onEscape(): void {
    if (!this.#list.hidden) {
      this.#close();
    } else if (this.#input.value !== "") {
      this.#input.value = "";
      this.#says.textContent = "";
    } else {
      this.#input.blur();
    }
  }

  #reopen(): void {
    if (this.#shown.length > 0 && this.#input.value.trim() !== "") this.#open(true);
    else void this.#find();
  }

  #choose(at: number): void {
    this.#list.children[this.#chosen]?.setAttribute("aria-selected", "false");
    this.#chosen = at;
    const option = this.#list.children[at];
    if (option === undefined) {
      this.#input.removeAttribute("aria-activedescendant");
      return;
    }
    option.setAttribute("aria-selected", "true");
    option.scrollIntoView({ block: "nearest" });
    this.#input.setAttribute("aria-activedescendant", option.id);
  }

  #go(at: number, elsewhere: boolean): void {
    const found = this.#shown[at];
    if (found === undefined) return;
    const href = hrefOf(found.place);
    if (elsewhere) {
      open(href, "_blank", "noopener");
      return;
    }
    this.#close();
    this.#input.blur();
    location.href = href;
    openTarget();
  }

  #open(open: boolean): void {
    this.#list.hidden = !open;
    this.#input.setAttribute("aria-expanded", String(open));
    if (!open) this.#input.removeAttribute("aria-activedescendant");
  }

  #close(): void {
    this.#asked++;
    this.#open(false);
    this.#says.textContent = "";
  }
}

function saidOf(shown: number, inAll: number, sought: boolean): string {
  if (!sought) return "";
  if (inAll === 0) return "none found";
  return shown < inAll ? `${shown} of ${inAll.toLocaleString("en-US")}` : `${inAll} found`;
}
