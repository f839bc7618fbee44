/**
 * A column of numbers from 1 downwards that never rises, in which places are looked up very often: a guide says about where to look for each of
 * as many equal shares of its range as it has places, so that a look-up takes a step or two whatever the length.
 */
export class FallingColumn {
  readonly values: Float64Array;
  readonly #guide: Uint32Array;
  readonly #perUnit: number;

  constructor(values: Float64Array) {
    this.values = values;
    const range = 1 - (values.at(-1) ?? 1);
    this.#perUnit = range > 0 ? values.length / range : 0;
    this.#guide = new Uint32Array(values.length + 1);
    for (let share = 0, place = 0; share < this.#guide.length; share++) {
      while (place < values.length && values[place]! >= 1 - share / this.#perUnit) place++;
      this.#guide[share] = place;
    }
  }

  /** Place of the first value below `wanted`, which is 1 or less; the length where there is none. */
  firstBelow(wanted: number): number {
    const { values } = this;
    let place = this.#guide[Math.min((1 - wanted) * this.#perUnit, values.length) | 0]!;
    while (place > 0 && values[place - 1]! < wanted) place--;
    while (place < values.length && values[place]! >= wanted) place++;
    return place;
  }
}
