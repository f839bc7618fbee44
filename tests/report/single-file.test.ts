import { createHash } from "node:crypto";
import { describe, expect, it } from "vitest";
import { singleFile } from "../../src/report/single-file.ts";

const page = (name: string, body: string, kind = "") => ({
  name,
  html: `<!doctype html>\n<html lang="en"${kind === "" ? "" : ` class="${kind}"`}><head><title>The ${name}</title><link rel="stylesheet" href="assets/report.css"/><script src="assets/charts.js" defer></script></head><body>${body}</body></html>\n`,
});

const assets = {
  early: "globalThis.first = 1;",
  script: "globalThis.ran = 1;",
  style: "p { color: #abc; }\n.sheet #window { order: 1; }",
  names: 'globalThis.framelifeNames = {"pages":[["\\u003c/script\\u003e","index.html"]],"fleets":[]};\n',
};

const pages = [
  page(
    "fleet-a.html",
    '<main id="main"><h1 aria-labelledby="main x">A</h1><a href="index.html">up</a><a href="#main">here</a></main>',
  ),
  page(
    "index.html",
    '<main id="main"><a href="fleet-a.html#main">A</a><a href="gone.html">gone</a><a href="assets/licences.txt">licences</a></main>',
  ),
  page("bench-a.html", '<section id="window"><svg><g id="c1" clip-path="url(#c1)"></g></svg></section>', "sheet"),
];

describe("singleFile()", () => {
  const whole = singleFile(pages, assets);

  it("has each page once, the index first, with its title", () => {
    expect(whole.match(/<article class="one-page[^>]*>/g)).toEqual([
      '<article class="one-page" id="page-1" data-page="index.html">',
      '<article class="one-page" id="page-2" data-page="fleet-a.html">',
      '<article class="one-page sheet" id="page-3" data-page="bench-a.html">',
    ]);
    expect(whole).toContain("<title>The index.html</title>");
    expect(whole.indexOf(">gone<")).toBeLessThan(whole.indexOf(">up<"));
  });

  it("keeps ids apart and links whole; what is not in it is no link", () => {
    expect(whole).toContain('<a href="#page-2-main">A</a><a>gone</a><a>licences</a>');
    expect(whole).toContain('<a href="#page-1">up</a><a href="#page-2-main">here</a>');
    expect(whole).toContain('aria-labelledby="page-2-main page-2-x"');
    expect(whole).toContain('id="page-3-c1" clip-path="url(#page-3-c1)"');
    const ids = [...whole.matchAll(/ id="([^"]*)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it("loads nothing, and allows only its own script and style by their hashes", () => {
    expect(whole).not.toMatch(/<link|src=/);
    const [style] = /(?<=<style>)[\s\S]*?(?=<\/style>)/.exec(whole)!;
    const [script] = /(?<=<script>)[\s\S]*?(?=<\/script>)/.exec(whole)!;
    const hash = (text: string) => `'sha256-${createHash("sha256").update(text).digest("base64")}'`;
    expect(whole).toContain(`script-src ${hash(script)}; style-src ${hash(style)}`);
    expect(whole).toContain("default-src 'none'");
    expect(script.startsWith(assets.early)).toBe(true);
    expect(script).toContain(`addEventListener("DOMContentLoaded", () => {${assets.script}`);
  });

  it("has the names that its pages are found by, where they can end no element", () => {
    const [, names = ""] = /<script type="application\/json" data-names>(.*?)<\/script>/.exec(whole) ?? [];
    expect(names).not.toContain("<");
    expect(JSON.parse(names)).toEqual({ pages: [["</script>", "index.html"]], fleets: [] });
  });

  it("finds places on a kind of page by their ends, and leaves colours alone", () => {
    expect(whole).toContain('.sheet [id$="-window"] { order: 1; }');
    expect(whole).toContain("color: #abc;");
  });

  it("finds a tag whole where a text in its quotes would close it", () => {
    const one = singleFile(
      [page("index.html", '<section aria-label="a > b" id="x"><a href="#x">x</a></section>')],
      assets,
    );
    expect(one).toContain('<section aria-label="a > b" id="page-1-x"><a href="#page-1-x">x</a></section>');
  });

  it("leaves text from exports as it is: only tags are changed", () => {
    const hostile = '&lt;a href=&quot;#x&quot;&gt; id="y" url(#z)';
    const [one] = [singleFile([page("index.html", `<p>${hostile}</p>`)], assets)];
    expect(one).toContain(`<p>${hostile}</p>`);
  });
});
