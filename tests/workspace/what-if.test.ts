import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { readScenario } from "../../src/simulate/read-scenario.ts";
import { protocolPath, readProtocol } from "../../src/workspace/protocol.ts";
import { readWhatIf } from "../../src/workspace/what-if.ts";

const folder = mkdtempSync(join(tmpdir(), "framelife-yaml-"));
afterAll(() => rmSync(folder, { recursive: true }));

function fileOf(text: string): string {
  const path = join(folder, "said.yaml");
  writeFileSync(path, text);
  return path;
}

describe("files beside the configuration", () => {
  it("says what a file of changes may hold, as a file of changes, with the line", () => {
    const path = fileOf("frames:\n  saltmere: 2\nduty: 99\n");
    expect(() => readWhatIf(path)).toThrow(
      `Cannot use the changes:\n  ${path}, line 3 at "duty": duty is a factor of at most 10`,
    );
    expect(() => readWhatIf(fileOf("{}"))).toThrow("Cannot use the changes:");
  });

  it("calls a protocol and a scenario by their names", () => {
    const path = protocolPath(folder, "spring");
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, "arms: 7\n");
    expect(() => readProtocol(folder, "spring")).toThrow(`Cannot use the protocol:\n  ${path}`);
    expect(() => readScenario(fileOf("nothing: 7\n"))).toThrow("Cannot use the scenario:");
  });
});
