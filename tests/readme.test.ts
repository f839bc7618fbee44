import { existsSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { CANONICAL_FIELDS, SLOT_FIELDS } from "../src/ingest/mapping/canonical-fields.ts";
import { program } from "../src/program.ts";
import { packageFile } from "../src/workspace/package-file.ts";
import { RULES } from "../src/workspace/rules.ts";
import { runProgram } from "./commands/run-program.ts";
import {
  AuditAnswerSchema,
  GaugePlanAnswerSchema,
  GaugeReadAnswerSchema,
  IntervalsAnswerSchema,
  LifeAnswerSchema,
  TraceAnswerSchema,
  TrialAssignAnswerSchema,
  TrialPlanAnswerSchema,
  TrialReadAnswerSchema,
} from "./questions/answer-schema.ts";

const readme = readFileSync(packageFile("README.md"), "utf8");
const developers = readFileSync(packageFile("DEVELOPERS.md"), "utf8");
const root = fileURLToPath(new URL("..", import.meta.url));
const nothing = {
  print() {},
  notice() {},
  setStatus() {},
  folder: root,
  today: () => "2026-01-15",
  colour: false,
  progress: false,
};
const commands = program(nothing).commands.map((command) => [command.name(), command] as const);
const withParts = commands.flatMap(([name, command]) => [
  [name, command] as const,
  ...command.commands.map((part) => [`${name} ${part.name()}`, part] as const),
]);

describe("the README", () => {
  it.each(withParts)("has a line for %s, whose help explains every option", (name, command) => {
    expect(readme).toContain(`\`framelife ${name}`);
    expect(command.description()).not.toBe("");
    for (const { flags, description } of command.options) expect(description, flags).not.toBe("");
  });

  it("names no command that is not there", () => {
    const named = [...`${readme}${developers}`.matchAll(/`framelife (\w+)/g)].map(([, name]) => name);
    expect(named.length).toBeGreaterThan(8);
    const known = commands.map(([name]) => name);
    expect(named.filter((name) => name !== undefined && name !== "COMMAND" && !known.includes(name))).toEqual([]);
  });

  it("lists every check with what it finds, does and may do", () => {
    const listed = Object.entries(RULES).map(
      ([name, { title, severity, may }]) =>
        `| \`${name}\` | ${title} | ${severity} | ${may.filter((other) => other !== severity).join(", ")} |`,
    );
    const shown = readme.split("\n").filter((line) => /^\| `\w+` \|.*\| (quarantine|refuse|fix|warn) \|/.test(line));
    expect(shown).toEqual(listed);
  });

  it.each(Object.entries(CANONICAL_FIELDS))("lists the fields of a %s", (record, fields) => {
    const line = readme.split("\n").find((text) => text.startsWith(`| ${record} | **`)) ?? "";
    const words = line.split(/[^a-z_]+/);
    const wanted = [...Object.keys(fields), ...(record === "rebuild" ? Object.keys(SLOT_FIELDS) : [])];
    expect(wanted.filter((field) => !words.includes(field))).toEqual([]);
  });

  it("has links that lead somewhere", () => {
    const links = [...`${readme}${developers}`.matchAll(/\]\(([^)#]+)\)/g)].map(([, link]) => link ?? "");
    expect(links.length).toBeGreaterThan(1);
    expect(links.filter((link) => !link.startsWith("http") && !existsSync(packageFile(link)))).toEqual([]);
  });

  it("shows a plain table that can be asked as it says", async () => {
    const line = readme.split("\n").find((text) => text.startsWith("framelife life --from "));
    const ran = await runProgram(root, ...(line ?? "").split(" ").slice(1));
    expect(ran).toMatchObject({ status: 0, err: "" });
    // L10 of the 23 ball bearings, 28.069: Lieblein & Zelen 1956 data, R survival 3.5-3 survreg
    expect(ran.out).toContain("10 % have failed by 28.1");
  });

  it.each([
    { command: "life", schema: LifeAnswerSchema },
    { command: "intervals", schema: IntervalsAnswerSchema },
  ])("documents every field of the JSON of $command", ({ schema }) => {
    const fields = [...Object.keys(schema.shape), ...Object.keys(schema.shape.groups.element.shape)];
    expect(fields.length).toBeGreaterThan(15);
    const told = (field: string) => readme.includes(`\`${field}\``) || readme.includes(`\`${field}[]\``);
    expect(fields.filter((field) => !["schema", "command"].includes(field) && !told(field))).toEqual([]);
  });

  it.each([
    { command: "audit", shapes: [AuditAnswerSchema.shape, AuditAnswerSchema.shape.findings.element.shape] },
    {
      command: "trace",
      shapes: [
        TraceAnswerSchema.shape,
        ...[TraceAnswerSchema.shape.rows, TraceAnswerSchema.shape.story].map((list) => list.element.shape),
      ],
    },
  ])("documents every field of the JSON of $command, its rows and findings", ({ shapes }) => {
    const fields = shapes.flatMap((shape) => Object.keys(shape));
    expect(fields.length).toBeGreaterThan(20);
    const told = (field: string) => readme.includes(`\`${field}\``) || readme.includes(`\`${field}[]\``);
    expect(fields.filter((field) => !["schema", "command"].includes(field) && !told(field))).toEqual([]);
  });

  it.each([
    { command: "gauge read", fields: Object.keys(GaugeReadAnswerSchema.shape) },
    { command: "gauge plan", fields: Object.keys(GaugePlanAnswerSchema.shape) },
    { command: "trial plan", fields: Object.keys(TrialPlanAnswerSchema.shape) },
    { command: "trial assign", fields: Object.keys(TrialAssignAnswerSchema.shape) },
    { command: "trial read", fields: Object.keys(TrialReadAnswerSchema.shape) },
  ])("documents every field of the JSON of $command", ({ fields }) => {
    expect(fields.length).toBeGreaterThan(8);
    const told = (field: string) => readme.includes(`\`${field}\``) || readme.includes(`\`${field}[]\``);
    expect(fields.filter((field) => !["schema", "command"].includes(field) && !told(field))).toEqual([]);
  });

  it("gives the npm scripts that it names", () => {
    const { scripts } = JSON.parse(readFileSync(packageFile("package.json"), "utf8")) as {
      scripts: Record<string, string>;
    };
    const named = [...`${readme}${developers}`.matchAll(/npm run ([\w:]+)/g)].map(([, name]) => name ?? "");
    expect(named.length).toBeGreaterThan(3);
    expect(named.filter((name) => scripts[name] === undefined)).toEqual([]);
  });
});
