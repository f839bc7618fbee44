/**
 * A label cut to `most` signs. Charts cut by signs and not by width: drawn without a browser, widths of letters are guessed a third
 * too wide, and whole names would lose their ends.
 */
export function shortLabel(text: string, most: number): string {
  const signs = [...text];
  return signs.length <= most
    ? text
    : `${signs
        .slice(0, most - 1)
        .join("")
        .trimEnd()}…`;
}
