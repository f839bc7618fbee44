import type { ComponentChildren } from "preact";
import { count } from "../../src/questions/wording.ts";
import { CONTENT_SECURITY_POLICY } from "../../src/report/content-security.ts";
import { CHART_SCRIPT, INDEX_PAGE, PAPER_SCRIPT, STYLE_SHEET } from "../../src/report/page-names.ts";
import type { PageInput } from "../report-input.ts";
import { sharedPages } from "../text/fleet-pages.ts";
import { type PagePlace, pathTo, siblingsOf } from "../text/page-place.ts";
import { percentOf } from "../text/percent-of.ts";
import type { SectionName } from "./section.tsx";

type FrameProps = {
  input: PageInput;
  title: string;
  /** Where the page belongs. */
  at: PagePlace;
  /** Cells of the title block beside those that every page has. */
  cells: [string, string][];
  sections: SectionName[];
  /** On paper the page is one sheet: tables that are folded or stand behind pictures stay off it. */
  sheet?: boolean;
  children: ComponentChildren;
};

/** What all pages share: head, title block, way around, foot. */
export function PageFrame({ input, title, at, cells, sections, sheet, children }: FrameProps) {
  const block: [string, string][] = [
    ...cells,
    ...(input.asOf === null ? [] : [["Events up to", input.asOf] as [string, string]]),
    ["Limits", percentOf(input.level)],
    ["Written on", input.generatedOn],
  ];
  return (
    <html lang="en" class={sheet ? "sheet" : undefined}>
      <head>
        <meta charset="utf-8" />
        <meta http-equiv="Content-Security-Policy" content={CONTENT_SECURITY_POLICY} />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="referrer" content="no-referrer" />
        <title>{title === input.title ? title : `${title}, ${input.title}`}</title>
        <script src={PAPER_SCRIPT} />
        <link rel="stylesheet" href={STYLE_SHEET} />
        <script src={CHART_SCRIPT} defer />
      </head>
      <body>
        <a class="skip" href="#main">
          Skip to the findings
        </a>
        <header>
          <div class="way">
            <Path input={input} at={at} />
            {/* The box for finding is of no use without the script, which fills this. */}
            <div class="find" hidden />
          </div>
          <h1>{title}</h1>
          <Siblings input={input} at={at} />
          <dl class="title-block">
            {block.map(([name, value]) => (
              <div key={name}>
                <dt>{name}</dt>
                <dd>{value}</dd>
              </div>
            ))}
          </dl>
          <nav aria-label="Sections of this page">
            <ul>
              {sections.map(({ id, title }) => (
                <li key={id}>
                  <a href={`#${id}`}>{title}</a>
                </li>
              ))}
            </ul>
          </nav>
        </header>
        <main id="main" tabIndex={-1} data-fleet={at.of === "fleet" ? at.fleet.name : undefined}>
          {children}
        </main>
        <Foot input={input} />
      </body>
    </html>
  );
}

/** From the index down to what the page belongs to. */
function Path({ input, at }: Pick<FrameProps, "input" | "at">) {
  const path = pathTo(at, input);
  if (path.length === 0) return <p class="over">Report on rebuilds</p>;
  return (
    <nav class="over" aria-label="Where this page belongs">
      <ol>
        {path.map(({ title, page }) => (
          <li key={page}>
            <a href={page}>{title}</a>
          </li>
        ))}
      </ol>
    </nav>
  );
}

/** The pages beside this one. */
function Siblings({ input, at }: Pick<FrameProps, "input" | "at">) {
  const { of, pages } = siblingsOf(at, input);
  return (
    <nav class="beside-it" aria-label={`Pages of ${of}`}>
      <ul>
        {pages.map(({ title, page, current }) => (
          <li key={page}>
            <a href={page} aria-current={current}>
              {title}
            </a>
          </li>
        ))}
      </ul>
    </nav>
  );
}

function Foot({ input }: Pick<FrameProps, "input">) {
  return (
    <footer>
      <p>
        <a href={INDEX_PAGE}>{input.title}</a>
        {input.asOf !== null && `, events up to ${input.asOf}`}, written on {input.generatedOn} by Framelife{" "}
        {input.version} from {count(input.audit.rows.files, "file")}. Of all fleets:{" "}
        {sharedPages(input).map(({ leads, page }, place) => (
          <>
            {place > 0 && "; "}
            <a href={page}>{leads}</a>
          </>
        ))}
        . Commands on these pages are meant for a shell in the folder of the workspace; elsewhere add{" "}
        <code>--workspace FOLDER</code>.
      </p>
    </footer>
  );
}
