/** A sentence in which no line break parts a figure from its percent sign. */
export function unbroken(text: string): string {
  return text.replaceAll(" %", "\u00a0%");
}
