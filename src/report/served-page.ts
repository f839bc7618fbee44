import { CONTENT_SECURITY_POLICY } from "./content-security.ts";
import type { ServedFile } from "./served-file.ts";

/** Where the server's own things lie: no file of a report begins so. */
export const OWN = "/-/";
export const EVENTS = `${OWN}events`;
export const LIVE_SCRIPT = `${OWN}live-reload.js`;

/** What a page may do while it is served: the same, and ask this server for news. */
export const SERVED_POLICY = `${CONTENT_SECURITY_POLICY}; connect-src 'self'`;

/**
 * A page as it is served: with the policy above, and the script that looks for news.
 * @param version - which writing of the pages this is; news of another one make it load again
 */
export function servedPage(html: string, version: string): string {
  const script = `<script src="${LIVE_SCRIPT}" data-version="${version}" defer></script>`;
  return html.replace(CONTENT_SECURITY_POLICY, () => SERVED_POLICY).replace("</head>", () => `${script}</head>`);
}

/** What is shown until there is a first page. */
export const WAITING_PAGE: ServedFile = {
  type: "text/html; charset=utf-8",
  content: Buffer.from(
    [
      '<!doctype html>\n<html lang="en"><head><meta charset="utf-8"/>',
      `<meta http-equiv="Content-Security-Policy" content="${CONTENT_SECURITY_POLICY}"/>`,
      '<meta name="viewport" content="width=device-width, initial-scale=1"/>',
      "<title>The report is being written</title></head>",
      "<body><h1>The report is being written</h1><p>This page turns into it by itself.</p></body></html>\n",
    ].join(""),
  ),
};
