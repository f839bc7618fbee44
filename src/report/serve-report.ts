import { randomUUID } from "node:crypto";
import { readFile } from "node:fs/promises";
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { UserError } from "../errors.ts";
import { packageFile } from "../workspace/package-file.ts";
import { Listeners, type News } from "./serve-news.ts";
import { type ServedFile, servedFile } from "./served-file.ts";
import { EVENTS, LIVE_SCRIPT, OWN, SERVED_POLICY, servedPage, WAITING_PAGE } from "./served-page.ts";

/** Where a server says which one it is. */
export const KEY_PATH = `${OWN}key`;

export type ServedReport = {
  address: string;
  port: number;
  /** Known to this server alone: who gets it back from a port has found this one there. */
  key: string;
  /** Tells the pages that are open. */
  tell: (change: Partial<News>) => void;
  /** Lets go of the port and of everyone who listens. */
  close: () => Promise<void>;
};

type Site = { folder: string; key: string; script: Buffer; listeners: Listeners; hosts: Set<string> };

/**
 * Serves a folder of pages to this machine alone; pages load again by themselves when told of another version.
 * @param port - 0 for any that is free
 * @param built - built folder that holds `assets`; the package's own if not given
 * @throws UserError where the port can't be had, or the assets aren't built
 */
export async function serveReport(
  folder: string,
  port: number,
  built: string = packageFile("dist/reports"),
): Promise<ServedReport> {
  const script = await liveScript(built);
  const key = randomUUID();
  const listeners = new Listeners({ version: null, writing: false, failure: null });
  const site: Site = { folder, key, script, listeners, hosts: new Set() };
  const server = createServer((request, response) => {
    answer(site, request, response).catch((error: unknown) => {
      if (response.headersSent) response.destroy();
      else say(response, 500, `Cannot read this file: ${(error as Error).message}`);
    });
  });
  const given = await listen(server, port);
  for (const name of ["127.0.0.1", "localhost"]) {
    site.hosts.add(`${name}:${given}`);
    if (given === 80) site.hosts.add(name);
  }
  return {
    address: `http://127.0.0.1:${given}/`,
    port: given,
    key,
    tell: (change) => listeners.tell(change),
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

async function liveScript(built: string): Promise<Buffer> {
  const file = join(built, "assets", "live-reload.js");
  try {
    return await readFile(file);
  } catch (error) {
    throw new UserError(`Cannot serve the report: ${file} is not built; run "npm run build"`, 1, { cause: error });
  }
}

function listen(server: Server, port: number): Promise<number> {
  return new Promise((resolve, reject) => {
    server.once("error", (error: NodeJS.ErrnoException) => reject(explained(error, port)));
    server.listen({ port, host: "127.0.0.1", exclusive: true }, () => resolve((server.address() as AddressInfo).port));
  });
}

function explained(error: NodeJS.ErrnoException, port: number): UserError {
  const found =
    error.code === "EADDRINUSE"
      ? "another program has it"
      : error.code === "EACCES"
        ? "the system keeps it for others"
        : error.message;
  return new UserError(
    `Cannot serve the report on port ${port}: ${found}; name another with --port, or leave --port out for any that is free`,
    1,
    { cause: error },
  );
}

async function answer(site: Site, request: IncomingMessage, response: ServerResponse): Promise<void> {
  const refused = refusal(site, request);
  if (refused !== null) {
    response.setHeader("Allow", "GET, HEAD");
    say(response, refused.status, refused.says);
    return;
  }
  const path = pathOf(request.url ?? "/");
  if (path === EVENTS && request.method === "GET") {
    head(response, 200, "text/event-stream");
    site.listeners.add(response);
    return;
  }
  const found = path.startsWith(OWN) ? ownThing(site, path) : await pageOrFile(site, path);
  if (found === null) say(response, 404, "There is no such page");
  else send(response, found);
}

function refusal({ hosts }: Site, { headers, method }: IncomingMessage): { status: number; says: string } | null {
  // A page of another site may have its own name lead to this machine; its requests then come under that name.
  if (!hosts.has(headers.host?.toLowerCase() ?? "")) {
    return { status: 403, says: `This server answers to ${[...hosts].join(" and ")} alone` };
  }
  return method === "GET" || method === "HEAD" ? null : { status: 405, says: "Pages can be looked at, and no more" };
}

function pathOf(url: string): string {
  const end = url.search(/[?#]/);
  return end === -1 ? url : url.slice(0, end);
}

function ownThing({ script, key }: Site, path: string): ServedFile | null {
  if (path === LIVE_SCRIPT) return { type: "text/javascript; charset=utf-8", content: script };
  if (path === KEY_PATH) return { type: "text/plain; charset=utf-8", content: Buffer.from(key) };
  return null;
}

async function pageOrFile({ folder, listeners }: Site, path: string): Promise<ServedFile | null> {
  // The version is noted first: a page that is replaced meanwhile is loaded once too often rather than not at all.
  const version = listeners.news.version ?? "";
  const file = (await servedFile(folder, path)) ?? (path === "/" ? WAITING_PAGE : null);
  if (file === null || !file.type.startsWith("text/html")) return file;
  return { type: file.type, content: Buffer.from(servedPage(file.content.toString("utf8"), version)) };
}

function head(response: ServerResponse, status: number, type: string): void {
  response.writeHead(status, {
    "Content-Type": type,
    "Cache-Control": "no-store",
    "X-Content-Type-Options": "nosniff",
    "Content-Security-Policy": `${SERVED_POLICY}; frame-ancestors 'none'`,
    // No page of another site may take a file in as a script or picture of its own.
    "Cross-Origin-Resource-Policy": "same-origin",
    "Referrer-Policy": "no-referrer",
  });
}

function send(response: ServerResponse, { type, content }: ServedFile): void {
  response.setHeader("Content-Length", content.length);
  head(response, 200, type);
  response.end(content);
}

function say(response: ServerResponse, status: number, text: string): void {
  head(response, status, "text/plain; charset=utf-8");
  response.end(`${text}\n`);
}
