import type { View } from "vega";
import type { TopLevelSpec } from "vega-lite";
import { describe, expect, it } from "vitest";
import { keptView, plainView } from "../../src/report/kept-runtimes.ts";
import { svgText } from "../../src/report/svg-text.ts";
import { pageFigures } from "../reports/page-figures.ts";

const ignore = () => {};
const named = { id: "figure-1", label: 'Lives of "A" & <B>' };

/** What Vega itself writes, less roles and words for those who hear it, its ids numbered from one. */
async function byVega(view: View): Promise<string> {
  const known = new Map<string, string>();
  const own = (id: string) => {
    known.set(id, known.get(id) ?? `figure-1-${known.size + 1}`);
    return known.get(id)!;
  };
  const svg = await view.toSVG();
  return svg
    .replaceAll(/<[^>]*>/g, (tag) =>
      tag
        .replaceAll(/ (?:role|aria-[a-z]+)="[^"]*"/g, "")
        .replace(/ id="([^"]*)"/, (_, id: string) => ` id="${own(id)}"`)
        .replaceAll(/url\(#([^)"]*)\)/g, (_, id: string) => `url(#${own(id)})`),
    )
    .replace("<svg", '<svg role="img" aria-label="Lives of &quot;A&quot; &amp; &lt;B&gt;"');
}

describe("svgText()", () => {
  it("writes every chart of every page as Vega does, byte for byte", async () => {
    const charts = (await pageFigures()).flatMap(({ charts }) => charts);
    expect(charts.length).toBeGreaterThan(35);
    for (const { spec, width } of charts) {
      const sized = { ...spec, width, autosize: { type: "fit-x", contains: "padding" } } as TopLevelSpec;
      const kept = keptView(sized, ignore);
      expect(await svgText(kept, named)).toBe(await byVega(plainView(sized, ignore)));
      kept.finalize();
    }
  });

  it("escapes words, and leaves what looks like markup in them", async () => {
    const words = `<b>"A" & 'B'</b> role="img" id="clip1" url(#clip1)`;
    const spec = {
      width: 300,
      data: { values: [{ x: 1, words }] },
      mark: { type: "text", clip: true, fill: "black", font: 'A "B"\t' },
      encoding: { x: { field: "x", type: "quantitative", title: words }, text: { field: "words" } },
    } as TopLevelSpec;
    const svg = await svgText(plainView(spec, ignore), named);
    expect(svg).toBe(await byVega(plainView(spec, ignore)));
    expect(svg).toContain(`&lt;b&gt;"A" &amp; 'B'&lt;/b&gt; role="img" id="clip1" url(#clip1)`);
  });

  it("leaves Vega its own way to write", async () => {
    const spec = { data: { values: [{}] }, mark: "point" } as TopLevelSpec;
    await svgText(plainView(spec, ignore), named);
    expect(await plainView(spec, ignore).toSVG()).toContain("graphics-symbol");
  });
});
