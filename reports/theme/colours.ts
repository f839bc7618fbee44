/** Ink on paper with one accent: failures and what is judged are red pencil, the rest is ink in three strengths. */
export const COLOURS = {
  ink: "#1b2a3a",
  /** Second-rank text; 6.8:1 on the paper. */
  soft: "#4d5b69",
  /** Lines of context, 3.2:1 on the paper. */
  faint: "#84909c",
  /** Hairlines that carry no meaning. */
  hair: "#d5dade",
  accent: "#a63a0a",
  paper: "#fdfdfb",
} as const;
