import { describe, expect, it } from "vitest";
import { UserError } from "../../src/errors.ts";
import { Configuration } from "../../src/workspace/configuration.ts";
import { jsonSchemas } from "../../src/workspace/json-schema.ts";
import { inUnit } from "../../src/workspace/lengths.ts";
import { Pipeline } from "../../src/workspace/pipeline.ts";
import { starterFiles } from "../../src/workspace/starter.ts";
import { parseYaml } from "../../src/workspace/yaml-file.ts";

const least = `title: Shop
fleets:
  - { name: main, title: Main plant }
slots:
  pump_end_bearing: { title: Pump-end bearing, quantity: 1, kind: bearing }
pipelines: [cards]
`;

describe("the configuration", () => {
  it("takes what is not said from its defaults", () => {
    expect(parseYaml(least, "framelife.yaml", Configuration)).toMatchObject({
      clock: "hours",
      display: { length: "thou", temperature: "F" },
      failed_when: ["failed"],
      hidden_until_opened: false,
      comeback_days: 90, // the comeback limit and the quarantine limit of 5 % are the program's own defaults
      quarantine_limit: 0.05,
      windows: {},
      gauges: {},
      shims: "take_up",
    });
  });

  it.each([
    { change: ["title: Shop", "title: 7"], line: 1, says: "title" },
    { change: ["name: main,", "name: Main,"], line: 3, says: "lower-case" },
    { change: ["quantity: 1", "quantity: 1.5"], line: 5, says: "whole number" },
    { change: ["kind: bearing", "kind: gear"], line: 5, says: "kind" },
    { change: ["pipelines: [cards]", "pipelines: []"], line: 6, says: "at least one pipeline" },
    { change: ["pipelines: [cards]", "pipelines: [cards]\nas_of: 2024-02-30"], line: 7, says: "no such day" },
    { change: ["pipelines: [cards]", "pipelines: [cards]\ncolour: red"], line: 1, says: "colour" },
    {
      change: ["fleets:", "fleets:\n  - { name: main, title: Twice }"],
      line: 4,
      says: 'fleet "main" stands twice',
    },
    {
      change: ["pipelines:", "windows:\n  end_play: { low: 7, high: 2, unit: thou, source: x }\npipelines:"],
      line: 7,
      says: "low must lie below high",
    },
    {
      change: ["pipelines:", "shims: adding\npipelines:"],
      line: 6,
      says: "take up the end play \\(take_up\\) or add to it",
    },
    {
      change: ["pipelines:", "gauges:\n  end_play: { sd: 0, unit: thou, source: x }\npipelines:"],
      line: 7,
      says: "above 0",
    },
    { change: ["pipelines:", "gauges:\n  end_play: { sd: 0.3, unit: thou }\npipelines:"], line: 7, says: "source" },
    {
      change: ["pipelines:", 'gauges:\n  end_play: { sd: 0.3, unit: thou, source: "" }\npipelines:'],
      line: 7,
      says: "name where the figure comes from",
    },
  ])("names the line of a fault: $says", ({ change: [from = "", to = ""], line, says }) => {
    const faulty = () => parseYaml(least.replace(from, to), "framelife.yaml", Configuration);
    expect(faulty).toThrow(UserError);
    expect(faulty).toThrow(new RegExp(`framelife\\.yaml, line ${line}\\b.*${says}`, "s"));
  });

  it("and the pipeline of a new workspace are sound", () => {
    const { pipelines } = parseYaml(starterFiles["framelife.yaml"] ?? "", "framelife.yaml", Configuration);
    expect(pipelines).toEqual(["cards"]);
    expect(parseYaml(starterFiles["pipelines/cards.yaml"] ?? "", "cards.yaml", Pipeline).record).toBe("rebuild");
  });

  it("has a JSON Schema that names every key", () => {
    const schemas = jsonSchemas() as Record<string, { properties: Record<string, unknown> }>;
    expect(Object.keys(schemas["framelife.schema.json"]?.properties ?? {})).toEqual(Object.keys(Configuration.shape));
    expect(Object.keys(schemas["pipeline.schema.json"]?.properties ?? {})).toEqual(Object.keys(Pipeline.shape));
  });
});

describe("inUnit()", () => {
  it.each([
    { value: 1, from: "in", to: "mm", gives: 25.4, source: "NIST SP 811, appendix B" },
    { value: 5, from: "thou", to: "mm", gives: 0.127, source: "NIST SP 811, appendix B" },
    { value: 0.0254, from: "mm", to: "thou", gives: 1, source: "NIST SP 811, appendix B" },
    { value: 178, from: "um", to: "thou", gives: 7.0079, source: "by hand: 178 / 25.4" },
    { value: 0.1, from: "mm", to: "mm", gives: 0.1, source: "by hand: the same" },
  ] as const)("gives $gives $to for $value $from ($source)", ({ value, from, to, gives }) => {
    expect(inUnit(value, from, to)).toBeCloseTo(gives, 4);
  });
});
