/** Radial factor X and axial factor Y. */
export type LoadFactors = { x: number; y: number };

/** Factors that change where the axial load passes `e` times the radial one. */
export type SteppedLoadFactors = { e: number; within: LoadFactors; beyond: LoadFactors };

/** Loads on a bearing, each 0 or more, not both 0; `rotation` is the old factor V: 1 (also where not given), or 1.2 where the outer ring turns. */
export type BearingLoads = { radial: number; axial: number; rotation?: number };

/**
 * Equivalent dynamic load: P = X * V * Fr + Y * Fa, and never below V * Fr unless X is 0, which says that the bearing carries no
 * radial load.
 * @param loads - kN, or any one unit of force
 * @param factors - X and Y for these loads, or both pairs of them with e: `within` counts up to Fa / (V * Fr) = e, `beyond` above it
 * @returns in the unit of the loads
 * @throws RangeError for loads or factors below 0 or not finite, a rotation factor not above 0, or no load at all
 * @see ISO 281:2007; rotation factor: its older editions
 * @example equivalentLoad({ radial: 4, axial: 2.2 }, { x: 0.56, y: 1.8 }); // 6.2
 */
export function equivalentLoad(loads: BearingLoads, factors: LoadFactors | SteppedLoadFactors): number {
  const { radial, axial, rotation = 1 } = loads;
  refuseNegative({ "the radial load": radial, "the axial load": axial, "the rotation factor": rotation });
  const turned = rotation * radial;
  const { x, y } = factorsAt(turned, axial, factors);
  refuseNegative({ X: x, Y: y });
  const load = Math.max(x * turned + y * axial, x === 0 ? 0 : turned);
  if (!(load > 0)) throw new RangeError("Cannot take an equivalent load: the loads and factors given come to 0");
  return load;
}

function factorsAt(radial: number, axial: number, factors: LoadFactors | SteppedLoadFactors): LoadFactors {
  if (!("e" in factors)) return factors;
  refuseNegative({ e: factors.e });
  return axial <= factors.e * radial ? factors.within : factors.beyond;
}

function refuseNegative(quantities: Record<string, number>): void {
  for (const [name, value] of Object.entries(quantities)) {
    if (!(value >= 0 && value < Number.POSITIVE_INFINITY)) {
      throw new RangeError(`Cannot take an equivalent load: ${name} must be 0 or more and finite, found ${value}`);
    }
  }
}
