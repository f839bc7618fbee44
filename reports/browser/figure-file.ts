/** What a figure is saved as, named for its page and its number. */
export function figureFile(figure: Element, ending: string): string {
  const page = (location.pathname.split("/").at(-1) ?? "").replace(/\.html?$/, "");
  return `${page || "report"}-${figure.id}.${ending}`;
}

/** Gives the reader a file. */
export function saveFile(content: Blob, name: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(content);
  link.download = name;
  link.click();
  // Once the browser has taken it over; at once is too early for some.
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
