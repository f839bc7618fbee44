import type { Configuration } from "../workspace/configuration.ts";
import type { BenchUnitAnswer } from "./bench-unit-answer.ts";

/** What a fitter fills in as the frame is opened, built and let go. */
export function benchBlanks({ slots, display, shims }: Configuration): BenchUnitAnswer["blanks"] {
  const { length, temperature } = display;
  const titles = Object.values(slots).map(({ title, quantity }) => (quantity > 1 ? `${title} (${quantity})` : title));
  return [
    {
      title: "As it came in",
      fields: ["Opened on", "Meter when taken out", "Why it came out", `End play found (${length})`, "Lube as found"],
      columns: null,
    },
    {
      title: "Each place in the frame: failed, worn, serviceable or not looked at",
      fields: titles,
      columns: ["found", "damage seen", "part fitted", "batch"],
    },
    {
      title: "Measured as built",
      fields: [
        `Race below face (${length})`,
        `Spigot height (${length})`,
        `or play without shims (${length})`,
        `Shims: ${shims === "take_up" ? "take up" : "add to"} play (${length})`,
        ...[`End play, first (${length})`, "second reading", "third reading", `Rings warmed to (${temperature})`],
      ],
      columns: null,
    },
    {
      title: "Let go",
      fields: [
        "Lube and fill",
        "Seal arrangement",
        "Turned by hand, free",
        "Guards back on",
        "Built on",
        "Fitter's code",
      ],
      columns: null,
    },
  ];
}
