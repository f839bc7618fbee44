import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  statSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { checkedBefore, type Memory, rememberChecked } from "../../src/workspace/checked-before.ts";
import { Configuration } from "../../src/workspace/configuration.ts";
import { packageFile } from "../../src/workspace/package-file.ts";
import { starterFiles } from "../../src/workspace/starter.ts";
import { readSettings } from "../../src/workspace/workspace.ts";
import { parseYaml } from "../../src/workspace/yaml-file.ts";

let folder: string;
let memory: Memory;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "framelife-checked-"));
  memory = { folder: join(folder, "cache"), code: "code" };
});

const STARTER = starterFiles["framelife.yaml"]!;
const SAMPLE = readFileSync(packageFile("sample-data/framelife.yaml"), "utf8");
const checked = (text: string) => parseYaml(text, "framelife.yaml", Configuration);
const kept = () => readdirSync(memory.folder);

describe("configurations checked before", () => {
  it.each([
    ["the starter's", STARTER],
    ["the sample workspace's", SAMPLE],
  ])("gives %s back as it was checked", (_, text) => {
    rememberChecked(text, checked(text), memory);
    expect(checkedBefore(text, memory)).toEqual(checked(text));
  });

  it("knows no other text, and nothing that other code has checked", () => {
    rememberChecked(STARTER, checked(STARTER), memory);
    expect(checkedBefore(`${STARTER}\n`, memory)).toBeUndefined();
    expect(checkedBefore(STARTER, { ...memory, code: "other" })).toBeUndefined();
    // Code and text are kept apart: neither can run on into the other.
    expect(checkedBefore(`e${STARTER}`, { ...memory, code: "cod" })).toBeUndefined();
  });

  it("takes a file cut short for none, and mends it", () => {
    rememberChecked(STARTER, checked(STARTER), memory);
    const file = join(memory.folder, kept()[0]!);
    writeFileSync(file, readFileSync(file, "utf8").slice(0, 100));
    expect(checkedBefore(STARTER, memory)).toBeUndefined();
    rememberChecked(STARTER, checked(STARTER), memory);
    expect(checkedBefore(STARTER, memory)).toEqual(checked(STARTER));
  });

  it("keeps nothing that would come back otherwise", () => {
    rememberChecked(STARTER, { ...checked(STARTER), rollover_at: Number.POSITIVE_INFINITY }, memory);
    expect(checkedBefore(STARTER, memory)).toBeUndefined();
  });

  it("is for its user alone, and leaves nothing half written", () => {
    rememberChecked(STARTER, checked(STARTER), memory);
    expect(kept()).toEqual([expect.stringMatching(/^[0-9a-f]{64}\.json$/)]);
    if (process.platform === "win32") return;
    expect(statSync(memory.folder).mode & 0o777).toBe(0o700);
    expect(statSync(join(memory.folder, kept()[0]!)).mode & 0o777).toBe(0o600);
  });

  it("keeps the latest fifty", () => {
    const text = (number: number) => `${STARTER}# ${number}\n`;
    const configuration = checked(STARTER);
    for (let number = 0; number < 51; number++) {
      rememberChecked(text(number), configuration, memory);
      if (number === 0) utimesSync(join(memory.folder, kept()[0]!), new Date(0), new Date(0));
    }
    expect(kept()).toHaveLength(50);
    expect(checkedBefore(text(0), memory)).toBeUndefined();
    expect(checkedBefore(text(50), memory)).toEqual(configuration);
  });

  it("does without where it can't be written, and where sources run unbuilt", () => {
    writeFileSync(memory.folder, "no folder");
    rememberChecked(STARTER, checked(STARTER), memory);
    expect(checkedBefore(STARTER, memory)).toBeUndefined();
    rememberChecked(STARTER, checked(STARTER));
    expect(checkedBefore(STARTER)).toBeUndefined();
  });
});

describe("the settings of a built program", () => {
  /** The module as the build makes it, with its cache in the test's folder. */
  async function built(): Promise<typeof import("../../src/workspace/checked-settings.ts")> {
    vi.stubGlobal("CHECKING_CODE", "code");
    vi.stubEnv("XDG_CACHE_HOME", folder);
    vi.resetModules();
    try {
      return await import("../../src/workspace/checked-settings.ts");
    } finally {
      vi.unstubAllGlobals();
      vi.unstubAllEnvs();
    }
  }

  const cached = () => readdirSync(join(folder, "framelife")).map((name) => join(folder, "framelife", name));
  function workspace(text: string): string {
    const at = join(folder, "workspace");
    mkdirSync(at, { recursive: true });
    writeFileSync(join(at, "framelife.yaml"), text);
    return at;
  }

  it("are those that are read and checked, the first time and later", async () => {
    const at = workspace(SAMPLE);
    const { checkedSettings } = await built();
    expect(await checkedSettings(at)).toEqual(readSettings(at));
    expect(cached()).toHaveLength(1);
    expect(await checkedSettings(at)).toEqual(readSettings(at));
  });

  it("come from what was kept, until the text changes", async () => {
    const at = workspace(STARTER);
    const { checkedSettings } = await built();
    const { title } = (await checkedSettings(at)).configuration;
    const [file] = cached();
    writeFileSync(file!, readFileSync(file!, "utf8").replace(JSON.stringify(title), '"As kept"'));
    expect((await checkedSettings(at)).configuration.title).toBe("As kept");
    workspace(STARTER.replace(/^title: .*$/m, "title: Changed"));
    expect((await checkedSettings(at)).configuration.title).toBe("Changed");
  });

  it("are refused each time where there is a fault, with its line", async () => {
    const at = workspace(`${STARTER}\nclok: days\n`);
    const { checkedSettings } = await built();
    for (let time = 0; time < 2; time++) {
      await expect(checkedSettings(at)).rejects.toThrow(/framelife\.yaml, line \d+/);
    }
    expect(existsSync(join(folder, "framelife"))).toBe(false);
  });

  it("say what is wrong with a file that is not there or can't be read", async () => {
    const { checkedSettings } = await built();
    await expect(checkedSettings(folder)).rejects.toThrow("there is no framelife.yaml");
    mkdirSync(join(folder, "framelife.yaml"));
    await expect(checkedSettings(folder)).rejects.toThrow(/Cannot read .*EISDIR/);
  });

  it("need no home that can be written to", async () => {
    const at = workspace(STARTER);
    writeFileSync(join(folder, "framelife"), "no folder");
    const { checkedSettings } = await built();
    expect(await checkedSettings(at)).toEqual(readSettings(at));
  });
});
