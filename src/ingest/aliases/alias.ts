/** A word on whether two numbers of a fleet are one unit; blank while nobody has said. */
export type Alias = {
  /** As the aliases file shows it. */
  line: number;
  fleet: string;
  /** The number as records have it. */
  unit: string;
  /** The unit's own number. */
  is: string;
  accept: "yes" | "no" | "";
};

export const ALIASES_FILE = "aliases.csv";
