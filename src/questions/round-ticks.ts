/** Round values for a linear axis from 0 to at least `end`: steps of 1, 2 or 5 times a power of ten. */
export function roundTicks(end: number, about = 6): number[] {
  if (!(end > 0)) return [0, 1];
  const rough = end / about;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((factor) => factor * power).find((candidate) => candidate >= rough) ?? 10 * power;
  const count = Math.ceil(end / step - 1e-9);
  return Array.from({ length: count + 1 }, (_, index) => Number((index * step).toPrecision(12)));
}

/** Round values for a logarithmic axis between two ages above 0: 1, 2, 5 of each power of ten, fewer over long spans. */
export function roundLogTicks(low: number, high: number): number[] {
  const decades = Math.log10(high / low);
  const factors = decades > 4 ? [1] : decades > 1 ? [1, 2, 5] : [1, 2, 3, 4, 5, 6, 8];
  const from = Math.floor(Math.log10(low));
  const to = Math.ceil(Math.log10(high));
  const ticks: number[] = [];
  for (let power = from; power <= to; power++) {
    for (const factor of factors) ticks.push(Number((factor * 10 ** power).toPrecision(12)));
  }
  return ticks.filter((tick) => tick >= low && tick <= high);
}
