import type { ServerResponse } from "node:http";

/** What pages that are open are told. */
export type News = {
  /** Which writing of the pages is served; null before the first. */
  version: string | null;
  /** They are being written anew. */
  writing: boolean;
  /** Why that could not be done, in words for the user. */
  failure: string | null;
};

/** Those who listen for news, as server-sent events: each is told the latest at once, then whatever comes. */
export class Listeners {
  private readonly open = new Set<ServerResponse>();
  private latest: News;

  constructor(first: News) {
    this.latest = first;
  }

  get news(): News {
    return this.latest;
  }

  add(response: ServerResponse): void {
    this.open.add(response);
    response.on("close", () => this.open.delete(response));
    response.write(eventOf(this.latest));
  }

  tell(change: Partial<News>): void {
    this.latest = { ...this.latest, ...change };
    for (const response of this.open) response.write(eventOf(this.latest));
  }
}

// JSON has no line ends, which would end an event (WHATWG HTML, 9.2.6).
function eventOf(news: News): string {
  return `data: ${JSON.stringify(news)}\n\n`;
}
