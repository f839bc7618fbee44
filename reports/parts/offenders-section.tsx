import { entityWord } from "../../src/questions/entity-words.ts";
import type { OffendersAnswer } from "../../src/questions/offenders-answer.ts";
import { inWords, unitOf, wholePercent, withLimits } from "../../src/questions/wording.ts";
import { funnel, MOST_POINTS } from "../charts/funnel.ts";
import type { Pickable } from "../charts/picking.ts";
import { inOrderOfRatio, MOST_RATIOS, ratiosInOrder } from "../charts/ratios-in-order.ts";
import { capitalised } from "../text/capitalised.ts";
import { chanceFigure } from "../text/chance-figure.ts";
import { entitiesWord } from "../text/entities-word.ts";
import { percentOf } from "../text/percent-of.ts";
import { funnelFinding, orderFinding } from "../text/recurrence-findings.ts";
import { perService, rateWords } from "../text/service-rate.ts";
import { unbroken } from "../text/unbroken.ts";
import { verdictWords } from "../text/verdict-words.ts";
import { Careful } from "./careful.tsx";
import { type Cell, DataTable } from "./data-table.tsx";
import { Figure } from "./figure.tsx";
import { nameCell, type OffendersProps } from "./name-cell.ts";
import { RowsBehind } from "./rows-behind.tsx";
import { StandingOut } from "./standing-out.tsx";

/** Rows of a table that a page has room for; the command under it gives all. */
const MOST_ROWS = 100;

/** Who among the frames, or positions, of a fleet comes back more often than chance explains. */
export function OffendersSection({ answer, title, pageOf }: OffendersProps) {
  const { entities, by } = answer;
  if (entities.length === 0) return <p>No {entityWord(by)} with service under observation is on record.</p>;
  return (
    <>
      <Careful warnings={answer.warnings.map(capitalised)} />
      <StandingOut answer={answer} pageOf={pageOf} />
      <Funnel answer={answer} title={title} pageOf={pageOf} />
      <InOrder answer={answer} title={title} pageOf={pageOf} />
    </>
  );
}

function Funnel({ answer, title, pageOf }: OffendersProps) {
  const { entities, by, clock, level, rows } = answer;
  const known = entities.filter(({ expected }) => expected > 0);
  const table = {
    columns: [
      { title: capitalised(entityWord(by)) },
      ...[
        "Failures",
        "Planned",
        "Expected",
        `Service${inUnit(answer)}`,
        `Failures in ${perService(clock)}, ${percentOf(level)} limits`,
        "Chance of so many",
        "Adjusted for all looked at",
        "Verdict",
      ].map((name) => ({ title: name, figures: true })),
    ],
    rows: entities
      .slice(0, MOST_ROWS)
      .map(({ id, events, planned, expected, exposure, rate, pValue, adjustedP, verdict }): Cell[] => [
        nameCell(id, pageOf),
        events,
        planned,
        inWords(expected),
        inWords(exposure),
        rateWords(rate, clock),
        chanceFigure(pValue),
        chanceFigure(adjustedP),
        verdictWords(verdict),
      ]),
    trace: <RowsBehind command={rows} />,
  };
  const name = `${capitalised(entitiesWord(by))}: failures against those expected`;
  const first =
    entities.length > MOST_ROWS ? `the first ${MOST_ROWS} of ${entities.length.toLocaleString("en-US")}` : undefined;
  if (known.length === 0) {
    return <DataTable caption={first === undefined ? name : `${name}; ${first}`} {...table} />;
  }
  return (
    <Figure
      title={name}
      finding={funnelFinding(entities, by)}
      size="wide"
      spec={funnel(entities, { title, of: entitiesWord(by), picks: picksOf(by) })}
      table={{ ...table, part: first }}
    >
      A mark is a {entityWord(by)}; the further right, the more was to be expected of it at the ages that it ran
      through. On the line at 1 it failed as often as the others do at those ages. Outside the broken curves lie one in
      twenty by chance alone, outside the full ones one in 500 (exact limits by Poisson's law): of many{" "}
      {entitiesWord(by)} some do. Filled triangles are offenders, diamonds those to watch.
      {limitsNote(answer)}
      {known.length > MOST_POINTS &&
        ` ${MOST_POINTS.toLocaleString("en-US")} of ${known.length.toLocaleString("en-US")} are drawn.`}
    </Figure>
  );
}

/** Where the verdict knows of more than the curves do. */
function limitsNote({ fleets }: OffendersAnswer): string {
  const [fleet] = fleets;
  const spread = fleet?.ordinarySpread ?? 0;
  return [
    ...(spread >= 0.05
      ? [
          ` Ordinary ones differ by themselves (by ${unbroken(wholePercent(spread))} of their mean), which the curves leave out.`,
        ]
      : []),
    ...(fleet?.chanceBy === "renewal counts"
      ? [
          " Times between failures are spread otherwise than the curves suppose; the chances in the table allow for that, so a mark can lie inside them and be unlikely, or outside and not be.",
        ]
      : []),
  ].join("");
}

function InOrder({ answer, title, pageOf }: OffendersProps) {
  const { entities, by, clock, level, fleets } = answer;
  const ordered = inOrderOfRatio(entities);
  const shown = ordered.slice(0, MOST_RATIOS);
  const word = entitiesWord(by);
  if (shown.length === 0)
    return <p>No shrunken rates can be given: {fleets[0]?.reason ?? "nothing is expected of any"}.</p>;
  const more = ordered.slice(MOST_RATIOS);
  const within = more.filter(({ verdict }) => verdict === "within chance").length;
  return (
    <Figure
      title={`${capitalised(word)} in the order of their shrunken rates`}
      finding={orderFinding(shown)}
      size="wide"
      spec={ratiosInOrder(shown, { title, level, picks: picksOf(by) })}
      table={{
        columns: [
          { title: capitalised(entityWord(by)) },
          ...[
            "As counted",
            "Times ordinary",
            `Shrunken failures in ${perService(clock)}`,
            "Chance that it is ordinary",
            "Verdict",
          ].map((name) => ({ title: name, figures: true })),
        ],
        rows: shown.map((entity): Cell[] => [
          nameCell(entity.id, pageOf),
          inWords(entity.events / entity.expected),
          withLimits(entity.shrunkenRatio, ""),
          rateWords(entity.shrunkenRate, clock),
          chanceFigure(entity.probabilityOrdinary),
          verdictWords(entity.verdict),
        ]),
        trace: <RowsBehind command={answer.rows} />,
      }}
    >
      Times the ordinary rate, drawn toward the others as far as the few failures of each leave it uncertain; bars are{" "}
      {percentOf(level)} intervals, crosses what was counted. A long bar is a rate that is poorly known.
      {more.length > 0 &&
        ` The ${MOST_RATIOS} highest of ${ordered.length.toLocaleString("en-US")} are drawn; ${within === more.length ? "the others are all within chance" : `of the others ${within.toLocaleString("en-US")} are within chance`}.`}
    </Figure>
  );
}

function inUnit({ clock }: OffendersAnswer): string {
  const unit = unitOf(clock).trim();
  return unit === "" ? "" : ` (${unit})`;
}

function picksOf(by: OffendersAnswer["by"]): Pickable[] {
  return by === "unit" || by === "position" ? [{ kind: by, field: "id" }] : [];
}
