import { createHash } from "node:crypto";
import { CONTENT_SECURITY_POLICY } from "./content-security.ts";
import { NAMES_ASSIGNED } from "./find-names.ts";
import { INDEX_PAGE } from "./page-names.ts";

/** A page as it was written: its file name and its text. */
export type WrittenPage = { name: string; html: string };

/** Attributes that name an id on their own page. */
const REFERENCES = ["aria-labelledby", "aria-describedby", "aria-controls", "for"];

/** A tag: within the quotes of an attribute a text may close it as it likes. */
const TAG = /<(?:[^>"]|"[^"]*")*>/g;

/** A rule of the style sheet for a place on one kind of page: ids have the number of their page before them here. */
const OWN_PLACE = /(\.sheet[^,{}#]*) #([a-z][\w-]*)/g;
const BETWEEN =
  "\n.one-page { counter-reset: section; }\n.one-page + .one-page { margin-top: 4rem; break-before: page; }\n";

/**
 * Pages as one HTML text that needs nothing beside it: the index first, each page an article, links between them links within the text.
 * It may do no more than pages may: its own script and style sheet are named by their hashes.
 * @param pages - as written, of which the index is one; links to pages that are not among them are left as plain text
 * @param assets - the scripts, one of them to run before anything is drawn, the style sheet that pages load, and the script with the names that
 *   they are found by
 */
export function singleFile(
  pages: WrittenPage[],
  assets: { early: string; script: string; style: string; names: string },
): string {
  const ordered = pages.toSorted((one, other) => Number(other.name === INDEX_PAGE) - Number(one.name === INDEX_PAGE));
  const places = new Map(ordered.map(({ name }, at) => [name, `page-${at + 1}`]));
  const articles = ordered.map((page) => articleOf(page, places));
  const style = `${assets.style.replaceAll(OWN_PLACE, '$1 [id$="-$2"]')}${BETWEEN}`;
  const title = /<title>([^<]*)<\/title>/.exec(ordered[0]?.html ?? "")?.[1] ?? "";
  const script = `${assets.early}\naddEventListener("DOMContentLoaded", () => {${assets.script}\n});`;
  const policy = CONTENT_SECURITY_POLICY.replace("script-src 'self'", `script-src ${hashOf(script)}`).replace(
    "style-src 'self'",
    `style-src ${hashOf(style)}`,
  );
  return [
    '<!doctype html>\n<html lang="en"><head><meta charset="utf-8"/>',
    `<meta http-equiv="Content-Security-Policy" content="${policy}"/>`,
    '<meta name="viewport" content="width=device-width, initial-scale=1"/><meta name="referrer" content="no-referrer"/>',
    `<title>${title}</title><style>${style}</style><script>${script}</script></head><body>`,
    ...articles,
    `<script type="application/json" data-names>${namesIn(assets.names)}</script>`,
    "</body></html>\n",
  ].join("");
}

/** What the script with the names assigns: it was made to stand in a page. */
function namesIn(script: string): string {
  const { before, after } = NAMES_ASSIGNED;
  return script.startsWith(before) ? script.slice(before.length, -after.length) : "null";
}

function hashOf(text: string): string {
  return `'sha256-${createHash("sha256").update(text).digest("base64")}'`;
}

function articleOf({ name, html }: WrittenPage, places: Map<string, string>): string {
  const place = places.get(name)!;
  const kind = /<html[^>]* class="([\w -]*)"/.exec(html)?.[1];
  const body = html.slice(html.indexOf("<body>") + "<body>".length, html.lastIndexOf("</body>"));
  const own = body.replaceAll(TAG, (tag) => ownTag(tag, place, places));
  return `<article class="${["one-page", kind].filter(Boolean).join(" ")}" id="${place}" data-page="${name}">${own}</article>`;
}

/** A tag whose ids and links hold within the one file. */
function ownTag(tag: string, place: string, places: Map<string, string>): string {
  return tag
    .replace(/ id="([^"]*)"/, (_, id: string) => ` id="${place}-${id}"`)
    .replace(/ href="([^"]*)"/, (whole, link: string) => ownLink(whole, link, place, places))
    .replaceAll(/url\(#([^)"]*)\)/g, (_, id: string) => `url(#${place}-${id})`)
    .replaceAll(/ ([a-z-]+)="([^"]*)"/g, (whole, attribute: string, ids: string) =>
      REFERENCES.includes(attribute)
        ? ` ${attribute}="${ids
            .split(" ")
            .map((id) => `${place}-${id}`)
            .join(" ")}"`
        : whole,
    );
}

function ownLink(whole: string, link: string, place: string, places: Map<string, string>): string {
  if (link.startsWith("#")) return ` href="#${place}-${link.slice(1)}"`;
  const [page = "", id] = link.split("#");
  const target = places.get(decodeURIComponent(page));
  if (target === undefined) return /^[a-z]+:/i.test(link) ? whole : "";
  return ` href="#${target}${id === undefined ? "" : `-${id}`}"`;
}
