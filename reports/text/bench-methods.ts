import type { MethodGroup } from "./method-group.ts";

/** Statistics of what leaves the bench and what comes back to it. */
export const BENCH_METHODS: MethodGroup[] = [
  {
    id: "bench",
    title: "At the bench",
    methods: [
      {
        name: "Share outside the window (Wilson's limits)",
        answers: "How much leaves the bench outside its window, and how sure is that?",
        formula:
          "x of n readings: (x + z^2 / 2 -+ z sqrt(x (n - x) / n + z^2 / 4)) / (n + z^2), z of the normal law. A reading on an edge is inside. Readings count as independent.",
        source: "Wilson 1927, J. Amer. Statist. Assoc. 22:209-212",
      },
      {
        name: "What is usual (individuals and moving range)",
        answers: "What readings are to be expected of this bench?",
        formula:
          "Mean of all readings -+ 2.66 times the mean difference between neighbours in the order of building (three standard deviations, by 3 / 1.128); differences up to 3.267 times their mean. These limits come from the readings and say what is usual; the window comes from the workspace's source and says what is right. A lower limit below 0 is told as under 0.",
        source:
          "NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2; Montgomery, Introduction to Statistical Quality Control",
      },
      {
        name: "Run rules",
        answers: "Has the level of readings moved?",
        formula:
          "One reading beyond 3 sigma; 2 of 3 beyond 2 sigma; 4 of 5 beyond 1 sigma; 8 in a row on one side of the middle; each on one side, and broken by a reading that lies beyond the line itself. Of normal readings that nothing disturbs about one in 92 breaks one of the four, so a break is a question and no finding.",
        source:
          "Western Electric Company, Statistical Quality Control Handbook, 1956 (from memory); Champ & Woodall 1987, Technometrics 29:393-399, for the false alarms (from memory, simulated in our tests)",
      },
      {
        name: "Share that comes back (Aalen-Johansen at the limit)",
        answers: "How many builds fail within so many days of going into service?",
        formula:
          "Share ended by failure by the limit; a build taken out as planned, or with no reason given, can't fail any more and competes, one followed less far counts as far as it went. Limits are Wilson's at the effective number of builds: that of which a plain share would have the same standard error. A month or quarter by itself says little while its bar reaches the line of all.",
        source:
          "Aalen & Johansen 1978, Scand. J. Statist. 5:141-150; Dorey & Korn 1987, Statistics in Medicine 6:679-687 (from memory), for the effective number",
      },
      {
        name: "Variation between fitters (variance component)",
        answers: "How much of what readings differ by lies between fitters?",
        formula:
          "(Mean square between - mean square within) / n0 with n0 = (N - sum n^2 / N) / (k - 1), 0 where below, over the sum of both variances. Limits are exact for fitters with equally many readings, else approximate with n0. One figure is given for all, none of any.",
        source:
          "Searle, Casella & McCulloch, Variance Components, chapter 3; Thomas & Hultquist 1978, Ann. Statist. 6:582-587",
      },
      {
        name: "Shims against readings",
        answers: "Do shims and reading of a card agree?",
        formula:
          "End play without shims, read, or else depth of the race less height of the spigot; less the shims where they take it up, and with them where they add to it. A card is named where the reading differs by over 3 standard deviations of a reading times sqrt(3), or sqrt(2) where end play was read without shims; shims count by their marks. Where the workspace gives no deviation, half a thou a reading.",
        source: "arithmetic; three standard deviations and half a thou: common practice, no source",
      },
    ],
  },
];
