/**
 * What the Weibull shape of greatest likelihood from n lives that all failed is multiplied by to be right on average: (n - 2) / (n - 0.68).
 * With few lives the shape comes out too large, so wear-out looks sharper than it is. Nothing is known here of suspended lives.
 * @param lives - 3 or more; with fewer the shape has no average
 * @returns a factor from 0.43 to 1, no unit
 * @throws RangeError for fewer than 3 lives or a number that is not whole
 * @see R. Ross, Formulas to describe the bias and standard deviation of the ML-estimated Weibull shape parameter, IEEE Transactions on
 *   Dielectrics and Electrical Insulation 1 (1994) 247-253, as quoted by Makalic and Schmidt, Statistics and Computing 33 (2023)
 * @example publishedShapeFactor(10); // 0.858
 */
export function publishedShapeFactor(lives: number): number {
  if (!(Number.isInteger(lives) && lives >= 3)) {
    throw new RangeError(`Cannot correct a shape: it takes a whole number of lives from 3, found ${lives}`);
  }
  return (lives - 2) / (lives - 0.68);
}
