import { parse, View } from "vega";
import { compile, type TopLevelSpec } from "vega-lite";

export type SvgOptions = {
  /** Width of the picture, in CSS pixels. */
  width: number;
  /** Put before the ids inside, so that several pictures can stand in one page. */
  id: string;
  /** What the picture shows, for those who can't see it. */
  label: string;
};

/**
 * Draws a chart as SVG text, without a browser. A warning of the compiler is a fault of ours.
 * @throws TypeError if the specification gives a warning
 */
export async function renderSvg(spec: TopLevelSpec, { width, id, label }: SvgOptions): Promise<string> {
  const sized = { ...spec, width, autosize: { type: "fit-x", contains: "padding" } } as TopLevelSpec;
  const view = new View(parse(compile(sized, { logger: strictLogger }).spec), {
    renderer: "none",
    logger: strictLogger,
  });
  try {
    return labelled(ownIds(await view.toSVG(), id), label);
  } finally {
    view.finalize();
  }
}

/** Vega counts its clip paths from one in each process; here they must differ within a page and not between two runs. */
function ownIds(svg: string, id: string): string {
  const known = new Map<string, string>();
  const own = (name: string) => {
    const given = known.get(name) ?? `${id}-${known.size + 1}`;
    known.set(name, given);
    return given;
  };
  return svg.replaceAll(/<[^>]*>/g, (tag) =>
    tag
      .replace(/ id="([^"]*)"/, (_, name: string) => ` id="${own(name)}"`)
      .replaceAll(/url\(#([^)"]*)\)/g, (_, name: string) => `url(#${own(name)})`),
  );
}

function labelled(svg: string, label: string): string {
  const text = label.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");
  return svg.replace("<svg ", () => `<svg role="img" aria-label="${text}" `);
}

function refuse(...said: readonly unknown[]): never {
  throw new TypeError(`Cannot draw a chart: ${said.join(" ")}`);
}

const strictLogger = {
  level() {
    return strictLogger;
  },
  error: refuse,
  warn: refuse,
  info() {
    return strictLogger;
  },
  debug() {
    return strictLogger;
  },
} as unknown as NonNullable<NonNullable<Parameters<typeof compile>[1]>["logger"]>;
