import { afterEach, expect } from "vitest";
import { explainFailure } from "../../src/commands/explain-failure.ts";
import type { Ended, OwnProcess, Surroundings } from "../../src/commands/surroundings.ts";
import { program } from "../../src/program.ts";
import { CARD_HEADER, CARDS, ScratchWorkspace } from "../ingest/scratch-workspace.ts";
import { runProgram } from "./run-program.ts";

/** A row of a job card. */
export const card = (number: number, why = "failed") =>
  `${number},FA-${number},13/02/202${number % 5},15/02/202${number % 5},${1000 + number},${why},5,Y,bad`;
/** An export of such rows. */
export const cards = (...rows: string[]) => [CARD_HEADER, ...rows, ""].join("\n");

/** What the workspace says beside what all scratch workspaces do. */
export const MORE = 'as_of: "2025-06-30"\nquarantine_limit: 0.5';

/** A workspace with three cards, not read yet. */
export function watchedWorkspace(): ScratchWorkspace {
  const workspace = new ScratchWorkspace({ cards: CARDS }, { "exports/cards-1.csv": cards(card(1), card(2), card(3)) });
  workspace.configure(MORE);
  return workspace;
}

/** The program, run in this process. */
export async function theProgram(folder: string, args: string[]): Promise<Ended> {
  const ran = await runProgram(folder, ...args);
  return { ...ran, err: ran.err.trimEnd() };
}

/** A watch in this process; what it starts again to read and write is `run`. */
export class Watch {
  readonly ran: { status: number; out: string; err: string; runs: number } = { status: 0, out: "", err: "", runs: 0 };
  readonly ended: Promise<void>;
  private stop: () => void = () => {};

  constructor(folder: string, run: (folder: string, args: string[]) => Promise<Ended>, ...args: string[]) {
    const own: OwnProcess = {
      startAgain: async (args, from) => {
        this.ran.runs++;
        return { ended: run(from, args), kill: () => {} };
      },
      tellWhenStopped: () => () => {},
      whenStopped: (stop) => {
        this.stop = stop;
      },
    };
    const around: Surroundings = {
      print: (text) => {
        this.ran.out += `${text}\n`;
      },
      notice: (text) => {
        this.ran.err += `${text}\n`;
      },
      folder,
      today: () => "2026-01-15",
      colour: false,
      progress: false,
      setStatus: (status) => {
        this.ran.status = status;
      },
      process: own,
    };
    this.ended = program(around)
      .parseAsync(["node", "framelife", "report", "--watch", ...args])
      .then(() => {})
      .catch((error: unknown) => {
        const { status, says } = explainFailure(error, false);
        this.ran.status = status;
        this.ran.err += says ?? "";
      });
    running.push(this);
  }

  async address(): Promise<string> {
    await expect.poll(() => this.ran.out, { timeout: 10_000 }).toContain("http://127.0.0.1:");
    return /http:\/\/127\.0\.0\.1:\d+\//.exec(this.ran.out)![0];
  }

  async end(): Promise<void> {
    this.stop();
    await this.ended;
  }
}

const running: Watch[] = [];
afterEach(async () => {
  for (const watch of running.splice(0)) await watch.end();
});

/** What pages are told. */
export type News = { version: string | null; writing: boolean; failure: string | null };

/** What the server tells from now on, the latest first, until the test ends. */
export async function newsFrom(address: string): Promise<News[]> {
  const news: News[] = [];
  const response = await fetch(`${address}-/events`);
  void (async () => {
    let text = "";
    for await (const part of response.body ?? []) {
      text += new TextDecoder().decode(part as Uint8Array);
      const whole = text.split("\n\n");
      text = whole.pop() ?? "";
      for (const event of whole) news.unshift(JSON.parse(event.replace("data: ", "")) as News);
    }
  })().catch(() => {});
  return news;
}

/** Rebuilds on a busy machine. */
export const LONG = { timeout: 30_000, interval: 50 };
