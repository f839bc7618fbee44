import type { TopLevelSpec } from "vega-lite";
import { describe, expect, it } from "vitest";
import { renderSvg } from "../../src/report/render-svg.ts";

const spec: TopLevelSpec = {
  data: { values: [{ x: 1, name: '<img src=x onerror="alert(1)">' }] },
  mark: { type: "text", clip: true },
  encoding: { x: { field: "x", type: "quantitative" }, text: { field: "name" } },
};

describe("renderSvg()", () => {
  it("draws at the width asked for, under the label given", async () => {
    const svg = await renderSvg(spec, { width: 500, id: "figure-1", label: 'Lives "A" & <B>' });
    expect(svg).toMatch(/^<svg role="img" aria-label="Lives &quot;A&quot; &amp; &lt;B&gt;" /);
    expect(svg).toMatch(/ width="500" /);
  });

  it("escapes the texts of the data", async () => {
    expect(await renderSvg(spec, { width: 300, id: "figure-1", label: "" })).not.toContain("<img");
  });

  it("gives ids of its own to what one picture shares within itself, the same in each run", async () => {
    const first = await renderSvg(spec, { width: 300, id: "figure-1", label: "" });
    const again = await renderSvg(spec, { width: 300, id: "figure-1", label: "" });
    const second = await renderSvg(spec, { width: 300, id: "figure-2", label: "" });
    const ids = (svg: string) => [...svg.matchAll(/ id="([^"]*)"/g)].map(([, id]) => id);
    expect(ids(first).length).toBeGreaterThan(0);
    expect(again).toBe(first);
    expect(ids(second).every((id) => id?.startsWith("figure-2-"))).toBe(true);
    for (const id of ids(first)) expect(first).toContain(`url(#${id})`);
  });

  it("carries no style attribute, which the pages' policy would refuse", async () => {
    expect(await renderSvg(spec, { width: 300, id: "figure-1", label: "" })).not.toMatch(/ style="/);
  });

  it("tells of what the compiler finds odd, and draws all the same", async () => {
    const wrong = {
      ...spec,
      mark: "bar",
      encoding: { x: { field: "x", type: "quantitative", scale: { type: "band" } } },
    } as TopLevelSpec;
    const warnings: string[] = [];
    const svg = await renderSvg(wrong, {
      width: 300,
      id: "figure-1",
      label: "",
      onWarning: (text) => warnings.push(text),
    });
    expect(warnings.join()).toContain("band");
    expect(svg).toContain("<svg");
  });
});
