/** Up to so many groups are named with what is said of them. */
const NAMED = 3;

/** Warnings of several groups: each text once, with the groups that it is said of. */
export function mergedWarnings(groups: { title: string; warnings: string[] }[]): string[] {
  const titles = new Map<string, string[]>();
  for (const { title, warnings } of groups) {
    for (const warning of warnings) titles.set(warning, [...(titles.get(warning) ?? []), title]);
  }
  return [...titles].map(([warning, said]) => {
    if (said.length === groups.length && said.length > 1) return `In every group ${warning}`;
    if (said.length > NAMED) return `In ${said.length} of ${groups.length} groups, such as ${said[0]}, ${warning}`;
    return `${said.join("; ")}: ${warning}`;
  });
}
