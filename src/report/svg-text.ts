import type { Loader, View } from "vega";
import * as vega from "vega";

/** What the picture as a whole is called, and what stands before the ids within it. */
export type Named = { id: string; label: string };

type Attributes = Record<string, unknown> | null | undefined;
type Emitter = (...given: never[]) => void;

/** The class that Vega writes SVG text with; its types don't tell of it. */
declare class Writer {
  constructor(loader: Loader);
  protected _width: number;
  protected _height: number;
  protected _scale: number;
  protected _origin: number[];
  protected _bgcolor: string | null;
  protected _text: string | null;
  protected _render(scene: unknown): this;
  attr(scene: unknown, item: unknown, attributes: Emitter | Emitter[], tag: string | null): Attributes;
  mark(markup: Markup, scene: unknown): unknown;
  defs(markup: Markup): void;
}

type RenderModule = Parameters<typeof vega.renderModule>[1];

const { SVGStringRenderer, renderModule } = vega as unknown as {
  SVGStringRenderer: typeof Writer;
  renderModule: (name: string, module?: RenderModule) => RenderModule;
};

/**
 * A view as SVG text: as Vega writes it, with what a page needs changed while it is written. A picture is one thing to those who hear it: its parts have no roles and no words. Vega
 * counts its clip paths from one in each process; here they differ within a page and not between two runs.
 */
export function svgText(view: View, named: Named): Promise<string> {
  const vegas = renderModule("svg");
  // The view takes what draws it by this name when it is asked, before anything else runs.
  renderModule("svg", { ...vegas, headless: SvgText.bind(null, named) as never });
  try {
    return view.toSVG();
  } finally {
    renderModule("svg", vegas);
  }
}

class SvgText extends SVGStringRenderer {
  readonly #named: Named;

  constructor(named: Named, loader: Loader) {
    super(loader);
    this.#named = named;
  }

  protected override _render(scene: unknown): this {
    const markup = new Markup(this.#named);
    const [width, height] = [this._width, this._height];
    markup.open("svg", {
      xmlns: "http://www.w3.org/2000/svg",
      "xmlns:xlink": "http://www.w3.org/1999/xlink",
      version: "1.1",
      class: "marks",
      width: width * this._scale,
      height: height * this._scale,
      viewBox: `0 0 ${width} ${height}`,
    });
    const fill = this._bgcolor;
    if (fill && fill !== "transparent" && fill !== "none") markup.open("rect", { width, height, fill }).close();
    markup.open("g", { fill: "none", "stroke-miterlimit": 4 }, { transform: `translate(${this._origin})` });
    this.mark(markup, scene);
    markup.close();
    this.defs(markup);
    this._text = markup.close().toString();
    return this;
  }

  /** Of what writes attributes the last is the mark's own; the one before it writes words. */
  override attr(scene: unknown, item: unknown, attributes: Emitter | Emitter[], tag: string | null): Attributes {
    return super.attr(scene, item, Array.isArray(attributes) ? (attributes.at(-1) ?? []) : attributes, tag);
  }
}

/** Writes elements one after another, as the one of Vega does. */
class Markup {
  readonly #id: string;
  readonly #ids = new Map<string, string>();
  readonly #open: string[] = [];
  readonly #label: string;
  #text = "";
  #isTagOpen = false;

  constructor({ id, label }: Named) {
    this.#id = id;
    this.#label = label;
  }

  open(tag: string, ...sets: Attributes[]): this {
    this.#endTag();
    let text = `<${tag}`;
    if (this.#open.length === 0) text += ` role="img" aria-label="${attributeText(this.#label)}"`;
    for (const set of sets) {
      for (const name in set) {
        const value = set[name];
        if (value !== undefined && value !== null && !isForEars(name)) text += ` ${name}="${this.#value(name, value)}"`;
      }
    }
    this.#text += text;
    this.#open.push(tag);
    this.#isTagOpen = true;
    return this;
  }

  close(): this {
    const tag = this.#open.pop();
    this.#text += this.#isTagOpen ? "/>" : `</${tag}>`;
    this.#isTagOpen = false;
    return this;
  }

  text(words: unknown): this {
    const text = innerText(String(words));
    if (text === "") return this;
    this.#endTag();
    this.#text += text;
    return this;
  }

  toString(): string {
    return this.#text;
  }

  #endTag(): void {
    if (this.#isTagOpen) this.#text += ">";
    this.#isTagOpen = false;
  }

  #value(name: string, value: unknown): string | number {
    if (typeof value === "number") return value;
    const text = attributeText(String(value));
    if (name === "id") return this.#ownId(text);
    return text.startsWith("url(#")
      ? text.replace(/^url\(#([^)]*)\)/, (_, id: string) => `url(#${this.#ownId(id)})`)
      : text;
  }

  #ownId(name: string): string {
    const own = this.#ids.get(name) ?? `${this.#id}-${this.#ids.size + 1}`;
    this.#ids.set(name, own);
    return own;
  }
}

function isForEars(name: string): boolean {
  return name === "role" || name.startsWith("aria-");
}

const MARKS = /[&<>]/g;
const MARKS_OF_ATTRIBUTES = /[&<>"\t\n\r]/g;
const WRITTEN: Record<string, string> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "\t": "&#x9;",
  "\n": "&#xA;",
  "\r": "&#xD;",
};

function innerText(words: string): string {
  return words.replace(MARKS, written);
}

function attributeText(words: string): string {
  return words.replace(MARKS_OF_ATTRIBUTES, written);
}

function written(mark: string): string {
  return WRITTEN[mark]!;
}
