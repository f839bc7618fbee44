/**
 * Wilson's limits of a share of `of`, which need not be whole: (x + z^2 / 2 -+ z sqrt(x (1 - x / of) + z^2 / 4)) / (of + z^2).
 * @see E. B. Wilson, J. Amer. Statist. Assoc. 22 (1927) 209-212
 */
export function wilsonLimits(share: number, of: number, z: number): { low: number; high: number } {
  const count = share * of;
  const middle = count + (z * z) / 2;
  const reach = z * Math.sqrt(count * (1 - share) + (z * z) / 4);
  return {
    low: share === 0 ? 0 : (middle - reach) / (of + z * z),
    high: share === 1 ? 1 : (middle + reach) / (of + z * z),
  };
}
