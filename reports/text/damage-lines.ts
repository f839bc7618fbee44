import type { DamageProfile } from "../../src/questions/offenders-answer.ts";
import { wholePercent } from "../../src/questions/wording.ts";
import { modeName } from "./mode-name.ts";
import { unbroken } from "./unbroken.ts";

/** Modes that are written out: of its own failures, and of others' where it has none; the rest together. */
const MOST = { own: 7, others: 2 };

/** Each damage mode found, most often first, with its share: of one's own failures, and the same modes of all others'. */
export function damageLines({ modes }: DamageProfile): { own: string[]; others: string[] } {
  const sums = {
    own: modes.reduce((sum, { own }) => sum + own, 0),
    others: modes.reduce((sum, { others }) => sum + others, 0),
  };
  const line = (name: string, number: number, of: number) =>
    unbroken(`${name} ${number} of ${of.toLocaleString("en-US")}${of === 0 ? "" : ` (${wholePercent(number / of)})`}`);
  const shown = [
    ...modes.filter(({ own }) => own > 0).slice(0, MOST.own),
    ...modes
      .filter(({ own, others }) => own === 0 && others > 0)
      .toSorted((one, other) => other.others - one.others)
      .slice(0, MOST.others),
  ];
  const rest = modes.filter((mode) => !shown.includes(mode) && mode.own + mode.others > 0);
  const all = [
    ...shown.map(({ mode, own, others }) => ({ name: modeName(mode), own, others })),
    ...(rest.length === 0
      ? []
      : [
          {
            name: "Others",
            own: rest.reduce((sum, { own }) => sum + own, 0),
            others: rest.reduce((sum, { others }) => sum + others, 0),
          },
        ]),
  ];
  return {
    own: sums.own === 0 ? ["None told"] : all.map(({ name, own }) => line(name, own, sums.own)),
    others: all.map(({ name, others }) => line(name, others, sums.others)),
  };
}
