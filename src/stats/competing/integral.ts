// Abscissae above 0 and weights of the 7-point Gauss and 15-point Kronrod rules on [-1, 1]: R. Piessens and others, QUADPACK (1983), dqk15.
const NODES = [
  0.9914553711208126, 0.9491079123427585, 0.8648644233597691, 0.7415311855993945, 0.5860872354676911,
  0.4058451513773972, 0.20778495500789848,
];
const KRONROD = [
  0.022935322010529224, 0.06309209262997856, 0.10479001032225019, 0.14065325971552592, 0.1690047266392679,
  0.19035057806478542, 0.20443294007529889,
];
const GAUSS = [0, 0.1294849661688697, 0, 0.27970539148927664, 0, 0.3818300505051189, 0];
const MIDDLE = { kronrod: 0.20948214108472782, gauss: 0.4179591836734694 };

/** Share of the whole by which a panel's two rules may differ: their difference overstates the error of the better one. */
const AGREE = 1e-11;
const DEEPEST = 30;

type Panel = { from: number; to: number; depth: number };

/** Integral of a smooth function of one sign, halving panels until the 7- and the 15-point rule agree in each. */
export function integral(value: (x: number) => number, from: number, to: number): number {
  if (!(to > from)) return 0;
  let rough = Math.abs(rules(value, { from, to, depth: 0 }).better);
  const open: Panel[] = [{ from, to, depth: 0 }];
  let sum = 0;
  for (let panel = open.pop(); panel !== undefined; panel = open.pop()) {
    const { better, difference } = rules(value, panel);
    rough = Math.max(rough, Math.abs(sum + better));
    if (panel.depth >= DEEPEST || (panel.depth > 2 && difference <= AGREE * rough)) {
      sum += better;
      continue;
    }
    const middle = (panel.from + panel.to) / 2;
    open.push({ from: panel.from, to: middle, depth: panel.depth + 1 });
    open.push({ from: middle, to: panel.to, depth: panel.depth + 1 });
  }
  return sum;
}

function rules(value: (x: number) => number, { from, to }: Panel): { better: number; difference: number } {
  const middle = (from + to) / 2;
  const half = (to - from) / 2;
  const centre = value(middle);
  let kronrod = MIDDLE.kronrod * centre;
  let gauss = MIDDLE.gauss * centre;
  for (let node = 0; node < NODES.length; node++) {
    const both = value(middle - half * NODES[node]!) + value(middle + half * NODES[node]!);
    kronrod += KRONROD[node]! * both;
    gauss += GAUSS[node]! * both;
  }
  return { better: half * kronrod, difference: half * Math.abs(kronrod - gauss) };
}
