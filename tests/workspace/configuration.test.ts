import { describe, expect, it } from "vitest";
import { UserError } from "../../src/errors.ts";
import { bandEdges } from "../../src/workspace/band-edges.ts";
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

/** Costs with some keys changed; null leaves one out. */
function costs(changes: Record<string, string | number | null>): string {
  const all = { planned_rebuild: 300, unplanned_rebuild: 900, currency: "EUR", source: "ledger", ...changes };
  const said = Object.entries(all).filter(([, value]) => value !== null);
  return `{ ${said.map(([key, value]) => `${key}: ${value}`).join(", ")} }`;
}

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
      kits: {},
      stock_policy: { service: 0.95, review_days: 30 }, // common practice, no source
    });
  });

  it("takes kits of slots and of the whole frame, how the shelf is kept, and what rebuilds cost", () => {
    const kits =
      "kits:\n  pump_end_bearing: [{ part: QB-22 }]\n  frame: [{ part: QO-12, quantity: 2, fleets: [main] }]\n";
    const costs = "costs: { planned_rebuild: 1, unplanned_rebuild: 1.5, currency: EUR, source: ledger }\n";
    const policy = "stock_policy: { service: 0.9, lead_time_days: 0 }\n";
    expect(parseYaml(least + kits + policy + costs, "framelife.yaml", Configuration)).toMatchObject({
      kits: {
        pump_end_bearing: [{ part: "QB-22", quantity: 1 }],
        frame: [{ part: "QO-12", quantity: 2, fleets: ["main"] }],
      },
      stock_policy: { service: 0.9, review_days: 30, lead_time_days: 0 },
      costs: { planned_rebuild: 1, unplanned_rebuild: 1.5, holding: 0.2, currency: "EUR", source: "ledger" },
    });
  });

  it.each([
    { under: "kits", said: "seal: [{ part: QS-70 }]", says: 'no slot "seal"; kits are for pump_end_bearing, frame' },
    { under: "kits", said: "frame: [{ part: QG-60, fleets: [ostrel] }]", says: 'no fleet "ostrel"; fleets are main' },
    { under: "kits", said: "frame: [{ part: '' }]", says: "name the part as the stock list does" },
    { under: "kits", said: "frame: [{ part: QG-60, quantity: 0.5 }]", says: "quantity is a whole number of pieces" },
    { under: "kits", said: "frame: [{ part: QG-60, pieces: 2 }]", says: '"pieces"' },
    { under: "kits", said: "frame: []", says: "kits.frame" },
    { under: "planned_rebuilds", said: "[{ unit: F1, on: 31/12/2025 }]", says: "a date is written YYYY-MM-DD" },
    { under: "planned_rebuilds", said: "[{ on: 2025-12-31 }]", says: "planned_rebuilds.0.unit" },
    { under: "stock_policy", said: "service: 0.5", says: "service is a chance above 0.5" },
    { under: "stock_policy", said: "service: 1", says: "service is a chance below 1" },
    { under: "stock_policy", said: "service: 95", says: "service is a chance below 1" },
    { under: "stock_policy", said: "review_days: -1", says: "review_days is 0 days or more" },
    { under: "stock_policy", said: "lead_time_days: 99999", says: "lead_time_days is 1,500 days at most" },
    { under: "stock_policy", said: "review_days: weekly", says: "review_days is a number of days" },
    { under: "stock_policy", said: "lead_time_days: -30", says: "lead_time_days is 0 days or more" },
    { under: "costs", said: costs({ planned_rebuild: 900 }), says: "must cost more than a planned one" },
    { under: "costs", said: costs({ planned_rebuild: 901 }), says: "must cost more than a planned one" },
    { under: "costs", said: costs({ planned_rebuild: 0 }), says: "planned_rebuild is above 0" },
    { under: "costs", said: costs({ unplanned_rebuild: "dear" }), says: "unplanned_rebuild is an amount of money" },
    { under: "costs", said: costs({ downtime_a_day: 0 }), says: "downtime_a_day is above 0" },
    { under: "costs", said: costs({ holding: 20 }), says: "holding is a share of the price, 0 to 1" },
    { under: "costs", said: costs({ source: '""' }), says: "say where the amounts come from" },
    { under: "costs", said: costs({ source: null }), says: "costs.source" },
    { under: "costs", said: costs({ currency: null }), says: "costs.currency" },
  ])("refuses under $under: $said", ({ under, said, says }) => {
    const faulty = () => parseYaml(`${least}${under}:\n  ${said}\n`, "framelife.yaml", Configuration);
    expect(faulty).toThrow(UserError);
    expect(faulty).toThrow(/framelife\.yaml, line [78]\b/);
    expect(faulty).toThrow(says);
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

  it("of a new workspace has examples that can be taken as they stand", () => {
    const text = starterFiles["framelife.yaml"] ?? "";
    const examples = text.replace(/^# (?=(?:kits|stock_policy|costs|gauges|bearings):| {2})/gm, "");
    const { kits, stock_policy, costs, gauges, bearings } = parseYaml(examples, "framelife.yaml", Configuration);
    expect(Object.keys(kits)).toEqual(["drive_end_bearings", "drive_end_seals", "frame"]);
    expect(stock_policy.lead_time_days).toBe(60);
    expect(costs?.unplanned_rebuild).toBe(6000);
    expect([gauges.end_play?.sd, Object.keys(bearings)]).toEqual([0.3, ["drive_end_bearings"]]);
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

describe("bands", () => {
  const read = (bands: string, length = "mm") =>
    parseYaml(
      `${least}display: { length: ${length} }\nbands:\n  end_play: ${bands}\n`,
      "framelife.yaml",
      Configuration,
    );

  it.each([
    // by hand: 1 thou is 0.0254 mm, exact (NIST SP 811, appendix B)
    { bands: "{ edges: [2, 3.5, 7], unit: thou }", length: "mm", edges: [0.0508, 0.0889, 0.1778] },
    { bands: "{ edges: [0.0508, 0.1778], unit: mm }", length: "thou", edges: [2, 7] },
    { bands: "[0.05, 0.18]", length: "mm", edges: [0.05, 0.18] },
  ])("of $bands are $edges where lengths are in $length", ({ bands, length, edges }) => {
    expect(bandEdges(read(bands, length))).toEqual(edges);
  });

  it("are none where none are named", () => {
    expect(bandEdges(parseYaml(least, "framelife.yaml", Configuration))).toEqual([]);
  });

  it.each([
    { bands: "[7, 2, 3.5]", says: 'line 9 at "bands.end_play.1": 2 stands after 7; write the edges in rising order' },
    { bands: "{ edges: [2, 2, 7], unit: thou }", says: "2 stands after 2; write the edges in rising order, each once" },
    { bands: "2 to 7", says: "give the edges between bands as a list of numbers, or as { edges: [2, 3.5, 5.5, 7]" },
    { bands: "{ edges: [2, 7] }", says: "give the edges between bands as a list of numbers, or as { edges" },
    { bands: "{ edges: [2, 7], unit: cm }", says: "give the edges between bands as a list of numbers" },
  ])("refuses $bands with the line and the remedy", ({ bands, says }) => {
    expect(() => read(bands)).toThrow(says);
  });
});
