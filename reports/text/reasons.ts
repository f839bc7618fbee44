/** A rule's or a reason's name as words. */
function inPlainWords(name: string): string {
  return name.replaceAll("_", " ");
}

/** "12 (3 no hours, 9 start not known)"; "0" where nothing was left out. */
export function leftOutInWords(leftOut: Record<string, number>): string {
  const reasons = Object.entries(leftOut).filter(([, lives]) => lives > 0);
  const sum = reasons.reduce((total, [, lives]) => total + lives, 0);
  if (sum === 0) return "0";
  return `${sum.toLocaleString("en-US")} (${reasons.map(([reason, lives]) => `${lives.toLocaleString("en-US")} ${inPlainWords(reason)}`).join(", ")})`;
}
