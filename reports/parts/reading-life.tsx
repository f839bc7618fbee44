import { percentOf } from "../text/percent-of.ts";

/** How the charts of the life page are read; the curves of those still running where there are any. */
export function ReadingLife({ level, curves }: { level: number; curves: boolean }) {
  return (
    <>
      <p>
        On Weibull paper a Weibull law is a straight line. Circles are failures, ticks under them lives that have not
        failed. The band gives the {percentOf(level)} limits of the share failed at each age: read it upward. The red
        bar is L10 with its interval. Beyond the oldest failure the line is broken and the band pale: there the law
        speaks alone. All papers of the page have the same axes.
      </p>
      {curves && (
        <p>
          The other curve falls at each failure and needs no law; ticks on it are lives that left unfailed, the band is
          the pointwise {percentOf(level)} interval, thin lines are the other slots. It is broken where fewer than 5 are
          at risk. “At risk” counts the lives under observation just before that age.
        </p>
      )}
    </>
  );
}
