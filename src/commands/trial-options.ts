import { InvalidArgumentError } from "commander";

/** A number between two ends, neither of them included. */
export function between(low: number, high: number): (text: string) => number {
  return (text) => {
    const number = text.trim() === "" ? Number.NaN : Number(text);
    if (!(number > low && number < high)) {
      throw new InvalidArgumentError(`give a number above ${low} and below ${high}`);
    }
    return number;
  };
}

/** A whole number between two ends, both included. */
export function wholeFrom(least: number, most: number): (text: string) => number {
  return (text) => {
    const number = text.trim() === "" ? Number.NaN : Number(text);
    if (!(Number.isInteger(number) && number >= least && number <= most)) {
      throw new InvalidArgumentError(`give a whole number from ${least} to ${most}`);
    }
    return number;
  };
}

/** The name of a trial, which names its protocol's file. */
export function trialName(text: string): string {
  if (!/^[a-z][a-z0-9_-]*$/.test(text)) {
    throw new InvalidArgumentError("give lower-case letters, digits, _ and -, a letter first");
  }
  return text;
}
