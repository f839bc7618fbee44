import { type Datum, marksWith, rowHolds, type TabledFigure } from "./figure-tables.ts";

/** What is wrong between a figure and its table; nothing where the table holds what it should. */
type Rule = (figure: TabledFigure) => string[];

/** Each mark stands in a row. */
const eachMark =
  (...fields: string[]): Rule =>
  (figure) => {
    const marks = marksWith(figure, fields);
    if (marks.length === 0) return ["no mark looked at"];
    return marks.filter((mark) => !figure.rows.some((row) => rowHolds(row, mark))).map((mark) => JSON.stringify(mark));
  };

/** The table has some of the steps, says of how many, and each of its rows is one. */
const someSteps =
  (...fields: string[]): Rule =>
  (figure) => {
    const { rows, over } = figure;
    const steps = marksWith(figure, fields).filter(({ time }) => time !== 0);
    const said = /; ([\d,]+) of ([\d,]+) \w+$/
      .exec(over)
      ?.slice(1)
      .map((number) => Number(number.replaceAll(",", "")));
    const [listed = rows.length, all = rows.length] = said ?? [];
    return [
      ...(listed === rows.length && (said === undefined || all >= rows.length) ? [] : [`${over}: ${rows.length} rows`]),
      // Where more steps are there than a picture shows, it is drawn with fewer; a curve has its end as well.
      ...(steps.length <= all + 1 ? [] : [`${over}: ${steps.length} marks`]),
      ...rows.filter((row) => !steps.some((step) => rowHolds(row, step))).map((row) => row.join(" | ")),
    ];
  };

/** Of the modes that are drawn each row is a step; the table has the steps of the others too. */
const stepsOfModes: Rule = (figure) => {
  const steps = marksWith(figure, ["mode", "time", "estimate", "low", "high"]);
  const drawn = new Set(steps.map(({ mode }) => mode));
  const own = figure.rows.filter(([mode]) => drawn.has(mode));
  return [
    ...(new Set(own.map(([mode]) => mode)).size === drawn.size ? [] : [`${drawn.size} modes drawn`]),
    ...own.filter((row) => !steps.some((step) => rowHolds(row, step))).map((row) => row.join(" | ")),
  ];
};

/** Units that run: their ages stand without the unit that the head of the column has. */
const running: Rule = (figure) =>
  marksWith(figure, ["unit", "position", "age", "estimate", "low", "high"])
    .map((mark) => ({ ...mark, age: String(mark["age"]).replace(/ \D+$/, "") }))
    .filter((mark) => !figure.rows.some((row) => rowHolds(row, mark)))
    .map((mark) => JSON.stringify(mark));

const column = ({ head }: TabledFigure, name: string) => head.findIndex((title) => title.startsWith(name));
const number = (cell = "") => Number(cell.replaceAll(",", ""));

/** Where each curve ends. */
const ends: Rule = (figure) => {
  const last = new Map<unknown, Datum>();
  for (const mark of marksWith(figure, ["name", "time", "estimate", "low", "high"])) last.set(mark["name"], mark);
  if (last.size !== figure.rows.length) return [`${last.size} curves, ${figure.rows.length} rows`];
  return [...last.values()]
    .filter((mark) => !figure.rows.some((row) => rowHolds(row, mark)))
    .map((mark) => JSON.stringify(mark));
};

/** Numbers at risk under the axis, curve by curve. */
const atRisk: Rule = (figure) => {
  const ages = figure.head.flatMap((title, at) => {
    const age = /^At risk at ([\d,]+)/.exec(title)?.[1];
    return age === undefined ? [] : [{ age: number(age), at }];
  });
  const texts = figure.charts[0]!.layer.map(({ data }) => data?.values ?? []).filter(
    ([first]) => first !== undefined && "time" in first && "text" in first,
  );
  if (ages.length < 2 || texts.length !== figure.rows.length) return [`${texts.length} rows of numbers`];
  return texts.flatMap((values, nth) => {
    const row = figure.rows[nth]!;
    return ages
      .filter(({ age, at }) => number(String(values.find(({ time }) => time === age)?.["text"])) !== number(row[at]))
      .map(({ age }) => `${row[0]} at ${age}`);
  });
};

/** The fitted line: each row lies on it, as far as it is drawn. */
const onLine: Rule = (figure) => {
  const points = figure.charts[0]!.layer.filter(({ mark }) => mark.type === "line")
    .flatMap(({ data }) => data?.values ?? [])
    .map(({ time, y }) => ({ at: Math.log(Number(time)), y: Number(y) }))
    .toSorted((one, two) => one.at - two.at);
  const looked = figure.rows.flatMap(([share = "", life = ""]) => {
    const at = Math.log(number(/^[\d,.]+/.exec(life)?.[0]));
    const next = points.findIndex((point) => point.at >= at);
    const [from, to] = [points[next - 1], points[next]];
    if (from === undefined || to === undefined) return [];
    const y = from.y + ((to.y - from.y) * (at - from.at)) / (to.at - from.at);
    const wanted = Math.log(-Math.log1p(-Number.parseFloat(share) / 100));
    return [{ share, off: Math.abs(y - wanted) }];
  });
  if (looked.length === 0) return ["no row lies where the line is drawn"];
  // Three figures of a life are off by half of one in a hundred at most, on this paper by that times the shape.
  return looked.filter(({ off }) => off > 0.05).map(({ share, off }) => `${share} is off by ${off}`);
};

/** What the bars of a field add up to is what its cards lack. */
const lacks: Rule = (figure) => {
  const bars = marksWith(figure, ["field", "from", "missing"]);
  const undated = column(figure, "No date") >= 0;
  return figure.rows.flatMap(([field, cards, having]) => {
    const drawn = bars.filter((bar) => bar["field"] === field).reduce((sum, bar) => sum + Number(bar["missing"]), 0);
    const lacking = number(cards) - number(having);
    return drawn === lacking || (undated && drawn < lacking)
      ? []
      : [`${field}: ${drawn} drawn, ${lacking} in the table`];
  });
};

const DAY = (at: unknown) => new Date(Number(at)).toISOString().slice(0, 10);

/** Bars and marks of each row: its ends, how often it was taken out for what, and where or with which frames it ran. */
const rowsOfYears: Rule = (figure) => {
  const [own, other] = figure.head[0] === "Position" ? ["where", "unit"] : ["unit", "where"];
  const bars = marksWith(figure, ["unit", "where", "start", "stop", "status"]);
  const marks = marksWith(figure, ["unit", "where", "stop", "reason"]);
  const reasons = { failure: "Failure", planned: "Planned", "reason unknown": "Reason unknown" };
  return figure.rows.flatMap((row) => {
    const built = bars.filter((bar) => bar[own] === row[0]);
    const out = marks.filter((mark) => mark[own] === row[0]);
    const wanted = [
      DAY(Math.min(...built.map(({ start }) => Number(start)))),
      DAY(Math.max(...built.map(({ stop }) => Number(stop)))),
      ...Object.keys(reasons).map((reason) => String(out.filter((mark) => mark["reason"] === reason).length)),
    ];
    const heads = ["First on record", "Followed to", ...Object.values(reasons)];
    const found = heads.map((head) => row[column(figure, head)]);
    const named = new Set(row[column(figure, own === "unit" ? "Positions" : "Frames")]?.split(", "));
    const missing = built.map((bar) => String(bar[other])).filter((name) => !named.has(name) && name !== "not named");
    return wanted.join() === found.join() && missing.length === 0
      ? []
      : [`${row[0]}: ${found} in the table, ${wanted} drawn; ${missing}`];
  });
};

/** Use after so many months: half of the futures, 80 % of them, at the end the outer range too. */
const use: Rule = (figure) => {
  const marks = marksWith(figure, ["part", "from", "median", "innerLow", "innerHigh", "low", "high"]);
  const heads = figure.head.flatMap((title, at) => {
    const [, level, month] = /^(?:(\d+ %) a|A)fter (\d+) month/.exec(title) ?? [];
    const fields = level === undefined ? ["median", "innerLow", "innerHigh"] : ["low", "high"];
    return month === undefined ? [] : [{ at, month: Number(month), fields }];
  });
  if (heads.length < 2) return ["no month looked at"];
  return figure.rows.flatMap((row) =>
    heads
      .filter(({ at, month, fields }) => {
        const mark = marks.find(({ part, from }) => part === row[0] && from === month - 1);
        const wanted = Object.fromEntries(fields.map((field) => [field, mark?.[field]]));
        return mark === undefined || !rowHolds([row[at] ?? ""], wanted);
      })
      .map(({ at }) => `${row[0]}: ${row[at]}`),
  );
};

/** Stock from which on no dot is above a chance, and below which all are. */
const stock: Rule = (figure) =>
  figure.rows.flatMap((row, nth) => {
    const { layer } = figure.charts[nth]!;
    const dots = layer.flatMap(({ data }) => data?.values ?? []).filter((dot) => dot["part"] === row[0]);
    const words = layer.flatMap(({ data }) => data?.values ?? []).map((mark) => String(mark["words"] ?? ""));
    const chances = figure.head.flatMap((title, at) => {
      const odds = /^Stock for 1 in (\d+)/.exec(title)?.[1];
      return odds === undefined || row[at] === "–" ? [] : [{ chance: 1 / Number(odds), least: number(row[at]) }];
    });
    const standing = (["Have", "Hold"] as const).filter((head) => {
      const figureThere = row[column(figure, head)];
      return figureThere !== "–" && !words.some((said) => said.includes(`${head.toLowerCase()} ${figureThere}`));
    });
    return [
      ...(dots.length > 0 && chances.length > 0 ? [] : [`${row[0]}: nothing looked at`]),
      ...standing.map((head) => `${row[0]}: ${head} ${row[column(figure, head)]}`),
      ...chances
        .filter(({ chance, least }) =>
          dots.some((dot) => Number(dot["stock"]) >= least !== Number(dot["risk"]) <= chance + 1e-12),
        )
        .map(({ chance }) => `${row[0]}: chance ${chance}`),
    ];
  });

/** By what a figure shows; every figure of a page is one of these. */
const RULES: [RegExp, Rule][] = [
  [/As-built end play\. /, eachMark("from", "to", "builds")],
  [/Back for failure within \d+ days, by/, eachMark("name", "builds", "count", "words")],
  [
    /End play reading by reading/,
    (figure) => [...eachMark("value", "on", "named", "card")(figure), ...eachMark("range", "on", "card")(figure)],
  ],
  [/How long lives last by/, someSteps("x", "lifeRatio", "low", "high")],
  [/Ratios of lives by/, eachMark("name", "estimate", "low", "high")],
  [/Still running by age and/, atRisk],
  [/Weibull paper/, onLine],
  [/Still running by age, /, someSteps("time", "estimate", "low", "high", "atRisk")],
  [/Share of lives ended by each/, stepsOfModes],
  [/Life seen against catalogue/, eachMark("words")],
  [/Chance to run on/, running],
  [/L10 and median by slot/, eachMark("label", "words")],
  [/L10 by slot and fleet/, eachMark("words")],
  [/Rebuilds a unit by service watched, .* beside/, ends],
  [/Rebuilds a unit by service watched/, someSteps("time", "estimate", "low", "high", "underObservation")],
  [/What cards lack/, lacks],
  [/failures against those expected/, eachMark("id", "events", "expectedWords", "verdict")],
  [/in the order of their shrunken rates/, eachMark("id", "shrunkenWords", "ratio", "verdict")],
  [/A row is a |a row is a /, rowsOfYears],
  [/Pieces used over the next/, use],
  [/Chance of running short/, stock],
  [/after each day of a past forecast/, eachMark("origin", "used", "mean", "low", "high", "innerLow", "innerHigh")],
];

/** What is wrong between a figure and its table, at most three lines of it. */
export function tableFaults(figure: TabledFigure): string[] {
  const rule = RULES.find(([of]) => of.test(figure.caption))?.[1];
  if (figure.rows.length === 0) return ["no table"];
  if (rule === undefined) return [`no rule for: ${figure.caption}`];
  return rule(figure).slice(0, 3);
}
