/** The papers that a report can be printed on without a printer to ask. */
export const PRINT_PAPERS = ["A4", "Letter"] as const;

export type PrintPaper = (typeof PRINT_PAPERS)[number];

/** Rules for the end of the style sheet: every page, one that is laid out as a sheet too, on this paper; margins stay as they are. */
export function printPaperRules(paper: PrintPaper): string {
  return `\n@page { size: ${paper}; }\n@page sheet { size: ${paper}; }\n`;
}
