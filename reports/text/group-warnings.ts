/**
 * Warnings of several groups, each said once with the groups it is about.
 * @example groupWarnings([{ title: "Seals", warnings: ["few"] }, { title: "Sleeve", warnings: ["few"] }]); // ["All 2: few"]
 */
export function groupWarnings(groups: { title: string; warnings: string[] }[]): string[] {
  const about = new Map<string, string[]>();
  for (const { title, warnings } of groups) {
    for (const warning of new Set(warnings)) about.set(warning, [...(about.get(warning) ?? []), title]);
  }
  return [...about].map(([warning, titles]) => `${whose(titles, groups.length)}: ${warning}`);
}

function whose(titles: string[], groups: number): string {
  return titles.length === groups && groups > 1 ? `All ${groups}` : titles.join(", ");
}
