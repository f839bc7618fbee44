/**
 * Warnings of several groups, each said once with the groups it is about.
 * @example groupWarnings([{ title: "Seals", warnings: ["few"] }, { title: "Sleeve", warnings: ["few"] }], "All slots"); // ["All slots: few"]
 */
export function groupWarnings(groups: { title: string; warnings: string[] }[], all: string): string[] {
  const about = new Map<string, string[]>();
  for (const { title, warnings } of groups) {
    for (const warning of new Set(warnings)) about.set(warning, [...(about.get(warning) ?? []), title]);
  }
  return [...about].map(
    ([warning, titles]) =>
      `${titles.length === groups.length && groups.length > 1 ? all : titles.join(", ")}: ${warning}`,
  );
}
