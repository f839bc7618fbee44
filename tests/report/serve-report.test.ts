import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { connect } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { CONTENT_SECURITY_POLICY } from "../../src/report/content-security.ts";
import { type ServedReport, serveReport } from "../../src/report/serve-report.ts";

let outside = "";
let folder = "";
let built = "";
let served: ServedReport;

const PAGE = `<!doctype html>\n<html><head><meta http-equiv="Content-Security-Policy" content="${CONTENT_SECURITY_POLICY}"/><title>T</title></head><body><p>"default-src 'none'; script-src 'self'</p></body></html>\n`;

beforeAll(async () => {
  outside = mkdtempSync(join(tmpdir(), "framelife-serve-"));
  folder = join(outside, "report");
  built = join(outside, "built");
  for (const made of [join(folder, "assets"), join(folder, ".writing-1-x"), join(built, "assets")]) {
    mkdirSync(made, { recursive: true });
  }
  writeFileSync(join(built, "assets/live-reload.js"), "// live");
  writeFileSync(join(folder, "index.html"), PAGE);
  writeFileSync(join(folder, "fleet-saltmere.html"), PAGE);
  writeFileSync(join(folder, "assets/report.css"), "/* style */");
  writeFileSync(join(folder, "assets/charts.js"), "// charts");
  writeFileSync(join(folder, "spares-order.xlsx"), Buffer.from([0x50, 0x4b, 0xff]));
  writeFileSync(join(folder, "notes.unknown"), "<script>");
  writeFileSync(join(folder, ".writing-1-x/index.html"), "half");
  writeFileSync(join(outside, "secret.html"), "secret");
  symlinkSync(join(outside, "secret.html"), join(folder, "link.html"));
  symlinkSync(outside, join(folder, "out"));
  symlinkSync("index.html", join(folder, "inner.html"));
  served = await serveReport(folder, 0, built);
});

afterAll(async () => {
  await served.close();
  rmSync(outside, { recursive: true, force: true });
});

type Answer = { status: number; headers: Record<string, unknown>; body: Buffer };

/** Asks as written: fetch() would tidy a path up, and set the host itself. */
function ask(path: string, { method = "GET", host = `127.0.0.1:${served.port}` } = {}): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const asked = request({ port: served.port, host: "127.0.0.1", path, method, headers: { host } }, (response) => {
      const parts: Buffer[] = [];
      response.on("data", (part: Buffer) => parts.push(part));
      response.on("end", () =>
        resolve({ status: response.statusCode ?? 0, headers: response.headers, body: Buffer.concat(parts) }),
      );
    });
    asked.on("error", reject).end();
  });
}

describe("serveReport()", () => {
  it.each([
    { path: "/", type: "text/html; charset=utf-8" },
    { path: "/fleet-saltmere.html?x#y", type: "text/html; charset=utf-8" },
    { path: "/inner.html", type: "text/html; charset=utf-8" },
    { path: "/assets/report.css", type: "text/css; charset=utf-8" },
    { path: "/assets/charts.js", type: "text/javascript; charset=utf-8" },
    { path: "/-/live-reload.js", type: "text/javascript; charset=utf-8" },
    {
      path: "/spares-order.xlsx",
      type: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    },
    { path: "/notes.unknown", type: "application/octet-stream" },
  ])("gives $path as $type, to be kept by nobody", async ({ path, type }) => {
    const { status, headers, body } = await ask(path);
    expect(status).toBe(200);
    expect(body.length).toBeGreaterThan(0);
    expect(headers).toMatchObject({
      "content-type": type,
      "cache-control": "no-store",
      "x-content-type-options": "nosniff",
      "cross-origin-resource-policy": "same-origin",
      "referrer-policy": "no-referrer",
    });
    expect(headers["content-security-policy"]).toContain("frame-ancestors 'none'");
  });

  it("lets a page ask for news, by a policy with one thing more and one script more", async () => {
    const text = String((await ask("/")).body);
    expect(text).toContain(`content="${CONTENT_SECURITY_POLICY}; connect-src 'self'"/>`);
    expect(text).toContain('<script src="/-/live-reload.js" data-version="" defer></script></head>');
    expect(text).toContain(`<body><p>"default-src 'none'; script-src 'self'</p>`);
  });

  it("gives other files byte for byte", async () => {
    expect((await ask("/spares-order.xlsx")).body).toEqual(Buffer.from([0x50, 0x4b, 0xff]));
  });

  it.each([
    "/../secret.html",
    "/%2e%2e/secret.html",
    "/..%2fsecret.html",
    "/assets/../../secret.html",
    "/assets/%2e%2e/%2e%2e/secret.html",
    "/..\\secret.html",
    "/%5c..%5csecret.html",
    "//secret.html",
    "//etc/passwd",
    "/link.html",
    "/out/secret.html",
    "/.writing-1-x/index.html",
    "/%00",
    "/index.html%00.css",
    "/index.html::$DATA",
    "/%",
    "/%ff",
    "/assets",
    "/assets/",
    "/missing.html",
    "/index.html/x",
    "/-/other",
    "http://127.0.0.1/index.html",
    "*",
  ])("finds nothing at %s", async (path) => {
    const { status, body } = await ask(path);
    expect(status).toBe(404);
    expect(String(body)).toBe("There is no such page\n");
  });

  it("finds nothing at a name that is too long for a file", async () => {
    expect((await ask(`/${"a".repeat(5000)}`)).status).toBe(404);
  });

  it.each(["evil.example", "evil.example:80", "127.0.0.1", "127.0.0.1:1", "localhost.evil.example", "[::1]:1"])(
    "answers nothing under the name %j: another site may have it lead here",
    async (host) => {
      for (const path of ["/", "/assets/report.css", "/-/events", "/-/key", "/-/live-reload.js"]) {
        const { status, body } = await ask(path, { host });
        expect(status, path).toBe(403);
        expect(String(body)).not.toContain("<");
      }
    },
  );

  it("answers under the name localhost too", async () => {
    expect((await ask("/", { host: `LOCALHOST:${served.port}` })).status).toBe(200);
  });

  it.each(["POST", "PUT", "DELETE", "OPTIONS", "PATCH", "TRACE"])("refuses %s", async (method) => {
    for (const path of ["/", "/-/events"]) {
      expect(await ask(path, { method })).toMatchObject({ status: 405, headers: { allow: "GET, HEAD" } });
    }
  });

  it.each(["/", "/-/key", "/assets/charts.js", "/missing"])("gives the head of %s alone", async (path) => {
    const [whole, head] = [await ask(path), await ask(path, { method: "HEAD" })];
    expect(head.body.length).toBe(0);
    expect(head.status).toBe(whole.status);
    expect(head.headers["content-type"]).toBe(whole.headers["content-type"]);
  });

  it("listens to this machine's own address alone", async () => {
    await expect(
      new Promise((resolve, reject) => {
        // Another address of the same machine (RFC 1122, 3.2.1.3).
        connect({ port: served.port, host: "127.0.0.2" }).on("connect", resolve).on("error", reject);
      }),
    ).rejects.toThrow("ECONNREFUSED");
  });

  it("survives what is no request at all", async () => {
    const said = await new Promise<string>((resolve) => {
      const socket = connect({ port: served.port, host: "127.0.0.1" });
      let text = "";
      socket.on("data", (part) => {
        text += String(part);
      });
      socket.on("close", () => resolve(text));
      socket.write("\0\0\0 nonsense\r\n\r\n");
    });
    expect(said).toContain("400");
    expect((await ask("/")).status).toBe(200);
  });

  it("says what has it where a port is not free", async () => {
    await expect(serveReport(folder, served.port, built)).rejects.toThrow(
      `Cannot serve the report on port ${served.port}: another program has it; name another with --port`,
    );
  });

  it("wants the script built", async () => {
    await expect(serveReport(folder, 0, folder)).rejects.toThrow('is not built; run "npm run build"');
  });
});

describe("news", () => {
  it("come to each who listens: the latest at once, then every change", async () => {
    const own = await serveReport(folder, 0, built);
    own.tell({ version: "a.1" });
    const heard: string[] = [];
    const listener = await fetch(`${own.address}-/events`);
    expect(listener.headers.get("content-type")).toBe("text/event-stream");
    const ended = (async () => {
      const text = new TextDecoder();
      for await (const part of listener.body ?? []) heard.push(text.decode(part as Uint8Array));
    })();
    await expect.poll(() => heard.length).toBe(1);
    own.tell({ writing: true });
    own.tell({ writing: false, failure: "Cannot read a.yaml, line 2:\n  <b>" });
    await expect
      .poll(() => heard.join(""))
      .toBe(
        [
          `data: {"version":"a.1","writing":false,"failure":null}\n\n`,
          `data: {"version":"a.1","writing":true,"failure":null}\n\n`,
          `data: {"version":"a.1","writing":false,"failure":"Cannot read a.yaml, line 2:\\n  <b>"}\n\n`,
        ].join(""),
      );
    await own.close();
    await ended.catch(() => {});
    await expect(fetch(own.address)).rejects.toThrow();
  });

  it("do without those who left", async () => {
    const own = await serveReport(folder, 0, built);
    const leave = new AbortController();
    await fetch(`${own.address}-/events`, { signal: leave.signal });
    leave.abort();
    await pause(50);
    own.tell({ writing: true });
    await own.close();
  });

  it("mark a page with the version that it is of", async () => {
    const own = await serveReport(folder, 0, built);
    own.tell({ version: `${own.key}.7` });
    expect(await (await fetch(own.address)).text()).toContain(`data-version="${own.key}.7"`);
    await own.close();
  });

  it("can be waited for where there is no page yet", async () => {
    const own = await serveReport(join(outside, "not-yet"), 0, built);
    const text = await (await fetch(own.address)).text();
    expect(text).toContain("<h1>The report is being written</h1>");
    expect(text).toContain("/-/live-reload.js");
    expect((await fetch(`${own.address}fleet-saltmere.html`)).status).toBe(404);
    await own.close();
  });
});
