/**
 * Contrast of two colours as #rrggbb, 1 to 21.
 * @see WCAG 2.2, https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio and #dfn-relative-luminance
 */
export function contrast(one: string, other: string): number {
  const [lighter, darker] = [luminance(one), luminance(other)].toSorted((a, b) => b - a) as [number, number];
  return (lighter + 0.05) / (darker + 0.05);
}

function luminance(colour: string): number {
  const [red, green, blue] = [1, 3, 5].map((at) => linear(Number.parseInt(colour.slice(at, at + 2), 16) / 255)) as [
    number,
    number,
    number,
  ];
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

function linear(part: number): number {
  return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
}
