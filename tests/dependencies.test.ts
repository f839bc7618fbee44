import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { packageFile } from "../src/workspace/package-file.ts";

type Manifest = { dependencies: Record<string, string>; devDependencies: Record<string, string> };
type Lock = { packages: Record<string, { resolved?: string; link?: boolean; integrity?: string }> };

const { dependencies, devDependencies } = JSON.parse(readFileSync(packageFile("package.json"), "utf8")) as Manifest;
const direct = { ...dependencies, ...devDependencies };

/** Names in the section "Dependencies"; `-b` after `@scope/family-a` stands for another of that family. */
function listed(): string[] {
  const section =
    readFileSync(packageFile("DEVELOPERS.md"), "utf8")
      .split(/^## /m)
      .find((part) => part.startsWith("Dependencies\n")) ?? "";
  let family = "";
  return [...section.matchAll(/`([@\w/-]+)`/g)].flatMap(([, name = ""]) => {
    if (/^-[a-z]/.test(name)) return [`${family}${name}`];
    family = /^(@stdlib\/(?:math-base-special|stats-base-dists))-/.exec(name)?.[1] ?? family;
    return [name];
  });
}

describe("dependencies", () => {
  it("each has its reason in DEVELOPERS.md", () => {
    const names = listed();
    expect(Object.keys(direct).length).toBeGreaterThan(20);
    expect(Object.keys(direct).filter((name) => !names.includes(name))).toEqual([]);
  });

  it("are all there that DEVELOPERS.md gives a reason for", () => {
    const packages = listed().filter(
      (name) => name.startsWith("@") || /^(vega|preact|yaml|zod|saxes|yauzl)/.test(name),
    );
    expect(packages.length).toBeGreaterThan(15);
    expect(packages.filter((name) => !(name in direct))).toEqual([]);
  });

  it("are pinned", () => {
    expect(Object.entries(direct).filter(([, version]) => !/^\d+\.\d+\.\d+(-[\w.]+)?$/.test(version))).toEqual([]);
  });

  it("are locked by their contents, and to no registry", () => {
    const { packages } = JSON.parse(readFileSync(packageFile("package-lock.json"), "utf8")) as Lock;
    const installed = Object.entries(packages).filter(([path, { link }]) => path !== "" && link !== true);
    expect(installed.length).toBeGreaterThan(100);
    expect(
      installed.filter(([, { resolved, integrity }]) => resolved !== undefined || integrity === undefined),
    ).toEqual([]);
  });
});
