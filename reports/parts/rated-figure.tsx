import type { Clock } from "../../src/questions/answer.ts";
import type { Estimate } from "../../src/questions/estimate.ts";
import type { Rating } from "../../src/questions/life-answer.ts";
import { inWords, withLimits } from "../../src/questions/wording.ts";
import { ratedLife } from "../charts/rated-life.ts";
import { ratedFinding } from "../text/life-findings.ts";
import { percentOf } from "../text/percent-of.ts";
import { type Cell, DataTable } from "./data-table.tsx";
import { Figure } from "./figure.tsx";
import { RowsBehind } from "./rows-behind.tsx";

const FATIGUE_ALONE =
  "Catalogue life covers fatigue of the rolling contact alone; what is seen here is every failure that the cards give, wear, water, dirt and fitting among them.";

const IN_DAYS = "Catalogue life counts running hours, lives here count days: the two are not compared.";

type RatedProps = { title: string; rating: Rating; l10: Estimate; level: number; clock: Clock | null; rows: string };

/** The life seen against the catalogue's, with every number that the catalogue life rests on and where it comes from. */
export function RatedFigure({ title, rating, l10, level, clock, rows }: RatedProps) {
  const { basis, l10h, modified, reason } = rating;
  const known = l10h !== null || modified !== null;
  const inHours = clock !== "days";
  return (
    <>
      <p>
        {!known && `No catalogue life can be given: ${reason ?? "nothing is on record to reckon it from"}.`}
        {known && (inHours ? ratioWords(rating, l10) : IN_DAYS)}
        {known && ` ${FATIGUE_ALONE}`}
      </p>
      {known && inHours && (
        <Figure
          title={`Life seen against catalogue life, ${title}`}
          finding={ratedFinding(title, rating.ratio)}
          size="wide"
          spec={ratedLife({
            title,
            timeTitle: "Running hours",
            level,
            seen: l10,
            rated: [
              { name: "Catalogue, modified (L10mh)", life: modified },
              { name: "Catalogue, basic (L10h)", life: l10h },
            ],
          })}
          table={{
            columns: [{ title: "Life" }, { title: "Hours", figures: true }],
            rows: lifeRows(rating, l10),
            trace: <RowsBehind command={rows} only={`those of ${title}`} />,
          }}
        >
          The dot is L10 as seen, the bar its {percentOf(level)} interval; diamonds are rating lives by ISO 281 for the
          loads and speed in the table below. The scale is logarithmic.
        </Figure>
      )}
      {basis.length > 0 && (
        <DataTable
          caption={`What the catalogue life rests on, ${title}`}
          columns={[{ title: "Quantity" }, { title: "Value" }, { title: "Source" }]}
          rows={basis.map(({ name, value, source }): Cell[] => [name, value, source])}
          trace={
            <>
              Bearing data as read: <code>framelife query "select * from records.bearing"</code>.
            </>
          }
        />
      )}
    </>
  );
}

function lifeRows({ l10h, modified, ratio }: Rating, l10: Estimate): Cell[][] {
  return [
    ["L10 seen here", withLimits(l10, "")],
    ...(modified === null ? [] : [["Catalogue, modified (L10mh)", inWords(modified)]]),
    ...(l10h === null ? [] : [["Catalogue, basic (L10h)", inWords(l10h)]]),
    ...(ratio.estimate === null ? [] : [["Seen over catalogue", withLimits(ratio, "")]]),
  ];
}

function ratioWords({ l10h, modified, ratio }: Rating, l10: Estimate): string {
  const which = modified === null ? "the catalogue's basic rating life" : "the catalogue's modified rating life";
  const rated = modified ?? l10h;
  if (rated === null) return "";
  if (ratio.estimate === null) {
    return `Whether parts here last as rated can't be told: ${ratio.reason ?? l10.reason ?? "no L10 is known"}.`;
  }
  const said = `L10 seen is ${withLimits(ratio, "")} times ${which} of ${inWords(rated)} h`;
  if (ratio.high !== null && ratio.high < 1) return `${said}: parts here last shorter than rated.`;
  if (ratio.low !== null && ratio.low > 1) return `${said}: parts here last longer than rated.`;
  return `${said}: whether they last shorter or longer than rated can't be told.`;
}
