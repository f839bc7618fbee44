import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { COLOURS } from "../../../reports/theme/colours.ts";
import { packageFile } from "../../../src/workspace/package-file.ts";
import { contrast } from "./contrast.ts";

const theme = (name: string) => readFileSync(packageFile(`reports/theme/${name}`), "utf8");

/** The colours that the rule of a selector sets, by the names of their properties. */
function coloursOf(css: string, selector: string): Record<string, string> {
  const [, body = ""] = css.split(`${selector} {`);
  const rule = body.slice(0, body.indexOf("}"));
  return Object.fromEntries([...rule.matchAll(/--([a-z]+): (#[0-9a-f]{6});/g)].map(([, name, value]) => [name, value]));
}

const light = coloursOf(theme("base.css"), ":root");
const dark = coloursOf(theme("dark.css"), ':root[data-paper="dark"]');
const papers = [
  { name: "light", colours: light },
  { name: "dark", colours: dark },
];

describe("contrast()", () => {
  it.each([
    // WCAG 2.2, definition of contrast ratio: 1 to 21
    { one: "#000000", other: "#ffffff", ratio: 21 },
    { one: "#123456", other: "#123456", ratio: 1 },
    // By hand: channel 0x80 = 0.50196, linear ((0.50196 + 0.055) / 1.055)^2.4 = 0.21586; (1.05) / (0.26586)
    { one: "#808080", other: "#ffffff", ratio: 3.9494 },
    // By hand: red alone has luminance 0.2126; 1.05 / 0.2626
    { one: "#ffffff", other: "#ff0000", ratio: 3.9985 },
  ])("of $one and $other is $ratio", ({ one, other, ratio }) => {
    expect(contrast(one, other)).toBeCloseTo(ratio, 3);
  });
});

describe("the style sheet", () => {
  it("has on light paper the colours that charts name", () => {
    expect(light).toMatchObject(COLOURS);
  });

  it("is as dark where the system wishes it as where the reader chose it", () => {
    expect(Object.keys(dark).toSorted()).toEqual(Object.keys(light).toSorted());
    expect(coloursOf(theme("dark.css"), ':root:not([data-paper="light"])')).toEqual(dark);
  });

  // WCAG 2.2, 1.4.3: text 4.5:1; 1.4.11: what is needed to read a picture 3:1
  it.each(papers)("has text that can be read on $name paper, and on its wash", ({ colours }) => {
    for (const ink of ["ink", "soft", "accent"]) {
      for (const ground of ["paper", "wash"]) {
        expect(contrast(colours[ink]!, colours[ground]!), `${ink} on ${ground}`).toBeGreaterThanOrEqual(4.5);
      }
    }
  });

  it.each(papers)("has lines that can be seen on $name paper", ({ colours }) => {
    expect(contrast(colours["faint"]!, colours["paper"]!)).toBeGreaterThanOrEqual(3);
  });

  it.each(papers)("tells failures from the rest on $name paper by lightness too, beside their shape", ({ colours }) => {
    // Common practice, no source: colours that differ in lightness by so much are told apart in grey as well
    expect(contrast(colours["accent"]!, colours["ink"]!)).toBeGreaterThanOrEqual(1.5);
  });

  it.each(Object.entries(COLOURS))("repaints %s in charts, as a fill and as a stroke", (name, value) => {
    const css = theme("dark.css").replaceAll(/\s+/g, " ");
    for (const part of ["fill", "stroke"]) {
      expect(css).toContain(`.chart [${part}="${value}"] { ${part}: var(--${name}); }`);
    }
  });

  it("names a colour only where it says what its paper is like", () => {
    const rules = readdirSync(packageFile("reports/theme"))
      .filter((name) => name.endsWith(".css"))
      .flatMap((name) =>
        theme(name)
          .split("\n")
          .filter((line) => /#[0-9a-f]{3,8}\b/.test(line) && !/^\s*(--[a-z]+:|\.chart \[)/.test(line)),
      );
    expect(rules).toEqual([]);
  });

  it("imports every part of itself", () => {
    const parts = readdirSync(packageFile("reports/theme")).filter((name) => name.endsWith(".css"));
    const imported = [...theme("report.css").matchAll(/@import "\.\/([\w-]+\.css)"/g)].map(([, name]) => name);
    expect(imported.toSorted()).toEqual(parts.filter((name) => name !== "report.css").toSorted());
  });
});
