import { describe, expect, it } from "vitest";
import { shortLabel } from "../../../reports/charts/short-label.ts";

describe("shortLabel()", () => {
  it.each([
    { text: "Ostrel", most: 6, label: "Ostrel" },
    { text: "Ostrel quarry", most: 8, label: "Ostrel…" },
    { text: "🌊🌊🌊", most: 2, label: "🌊…" },
  ])("cuts $text to $label (by hand)", ({ text, most, label }) => {
    expect(shortLabel(text, most)).toBe(label);
  });
});
