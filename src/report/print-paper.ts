/** The papers that a report can be printed on without a printer to ask. */
export const PRINT_PAPERS = ["A4", "Letter"] as const;

export type PrintPaper = (typeof PRINT_PAPERS)[number];

/** Tables that are folded on the screen and have more than a dozen rows are named in print, not printed: they are for looking up. */
export const SHORT_PRINT_RULES = `
@media print {
  details:has(tbody tr:nth-child(13)) > :not(summary) { display: none; }
  details:has(tbody tr:nth-child(13)) > summary { display: block; color: var(--soft); }
  details:has(tbody tr:nth-child(13)) > summary::before { content: "Not printed: "; }
  .sheet details > summary { display: none !important; }
}
`;

/** Rules for the end of the style sheet: every page, one that is laid out as a sheet too, on this paper; margins stay as they are. */
export function printPaperRules(paper: PrintPaper): string {
  return `\n@page { size: ${paper}; }\n@page sheet { size: ${paper}; }\n`;
}
