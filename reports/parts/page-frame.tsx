import type { ComponentChildren } from "preact";
import { count } from "../../src/questions/wording.ts";
import { CONTENT_SECURITY_POLICY } from "../../src/report/content-security.ts";
import { CHART_SCRIPT, INDEX_PAGE, METHODS_PAGE, PAPER_SCRIPT, STYLE_SHEET } from "../../src/report/page-names.ts";
import type { ReportInput } from "../report-input.ts";
import { percentOf } from "../text/percent-of.ts";
import type { SectionName } from "./section.tsx";

type FrameProps = {
  input: ReportInput;
  title: string;
  /** Above the title: where the page belongs. */
  over: ComponentChildren;
  /** Cells of the title block beside those that every page has. */
  cells: [string, string][];
  sections: SectionName[];
  /** On paper the page is one sheet: tables that are folded or stand behind pictures stay off it. */
  sheet?: boolean;
  children: ComponentChildren;
};

/** What all pages share: head, title block, way around, foot. */
export function PageFrame({ input, title, over, cells, sections, sheet, children }: FrameProps) {
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
          <p class="over">{over}</p>
          <h1>{title}</h1>
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
        <main id="main" tabIndex={-1}>
          {children}
        </main>
        <footer>
          <p>
            <a href={INDEX_PAGE}>{input.title}</a>
            {input.asOf !== null && `, events up to ${input.asOf}`}, written on {input.generatedOn} by Framelife{" "}
            {input.version} from {count(input.audit.rows.files, "file")}.{" "}
            <a href={METHODS_PAGE}>How the figures are made</a>. Commands on these pages are meant for a shell in the
            folder of the workspace; elsewhere add <code>--workspace FOLDER</code>.
          </p>
        </footer>
      </body>
    </html>
  );
}
