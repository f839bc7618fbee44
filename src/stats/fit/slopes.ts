/** A log-likelihood at a point with its first and second derivatives by a, the log of the scale, and e, the log of the shape. */
export type Slopes = { value: number; a: number; e: number; aa: number; ae: number; ee: number };
