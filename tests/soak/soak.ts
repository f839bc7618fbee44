import { cpSync, existsSync, mkdirSync, mkdtempSync, realpathSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Random, randomFor } from "../../src/simulate/random.ts";
import { Exports, spoil } from "./files-change.ts";
import { type HowToRun, type Ran, runTimed } from "./run-timed.ts";
import { fillDisk, smallDisk } from "./small-disk.ts";
import { smallWorkspace } from "./small-workspace.ts";
import {
  differences,
  leftovers,
  processesIn,
  recordsOf,
  storeBytes,
  storeFaults,
  unreadFiles,
} from "./store-checks.ts";

export type SoakOptions = {
  /** File of the program. */
  program: string;
  cycles: number;
  /** The same seed has the same faults in the same cycles; at which moment a process is killed hangs on the machine. */
  seed: number;
  /** Told of each cycle: what was done in it, and what was wrong. */
  onCycle?: (cycle: number, did: string[], faults: string[]) => void;
};

export type Soaked = {
  cycles: number;
  /** What went wrong, by cycle. */
  faults: string[];
  /** How often each kind of trouble was made; how many processes were really killed while they ran. */
  troubles: Record<string, number>;
  killed: number;
  /** How many disturbed runs ended with a message in place of an answer. */
  refused: number;
  seconds: number;
  /** Bytes of the store over those of a fresh one of the same exports, at each check. */
  growth: number[];
};

const MEGABYTES = 160;
/** A store may be so many times as large as a fresh one, plus what the engine takes at a time. */
const GROWTH = 3;
const SLACK = 3_000_000;
const CHECK_EVERY = 5;

const TROUBLES = {
  none: 2,
  "kill ingest": 3,
  "kill question": 1,
  "kill report": 2,
  "full disk, ingest": 2,
  "full disk, report": 1,
  "spoilt export": 3,
  "two at once": 2,
};

const QUESTIONS = ["life", "intervals", "offenders", "compare lube", "spares", "bench", "audit"];

/** Ingests, asks and reports, cycle after cycle, on a workspace whose exports change, with trouble of all kinds, and looks whether all is well after each. */
export async function soak({ program, cycles, seed, onCycle = () => {} }: SoakOptions): Promise<Soaked> {
  const root = realpathSync(mkdtempSync(join(tmpdir(), "framelife-soak-")));
  const folder = join(root, "workspace");
  mkdirSync(folder);
  const disk = smallDisk(folder, MEGABYTES);
  const leave = () => rmSync(root, { recursive: true, force: true });
  process.once("exit", leave);
  try {
    const run = new Soak({ program, folder, temporary: join(root, "tmp") }, disk !== undefined, join(root, "clean"));
    const begun = performance.now();
    for (let cycle = 1; cycle <= cycles; cycle++) {
      const { did, faults } = await run.cycle(cycle, randomFor(seed, "cycle", cycle), cycle === cycles);
      onCycle(cycle, did, faults);
    }
    const { faults, troubles, killed, refused, growth } = run;
    return { cycles, faults, troubles, killed, refused, growth, seconds: (performance.now() - begun) / 1000 };
  } finally {
    disk?.release();
    process.off("exit", leave);
    leave();
  }
}

class Soak {
  readonly faults: string[] = [];
  readonly troubles: Record<string, number> = {};
  readonly growth: number[] = [];
  killed = 0;
  refused = 0;
  private readonly how: HowToRun;
  private readonly hasDisk: boolean;
  private readonly clean: string;
  private readonly exports: Exports;
  /** How long each command took when nobody disturbed it, in ms. */
  private readonly usual = new Map<string, number>();
  private did: string[] = [];
  private wrong: string[] = [];

  constructor(how: HowToRun, hasDisk: boolean, clean: string) {
    this.how = how;
    this.hasDisk = hasDisk;
    this.clean = clean;
    mkdirSync(how.temporary);
    smallWorkspace(how.folder);
    this.exports = new Exports(how.folder);
  }

  async cycle(cycle: number, random: Random, last: boolean): Promise<{ did: string[]; faults: string[] }> {
    this.did = [];
    this.wrong = [];
    for (let changes = cycle === 1 ? 0 : random.integer(0, 2); changes > 0; changes--) {
      this.did.push(this.exports.change(random));
    }
    const trouble = cycle === 1 ? "none" : random.weighted(TROUBLES);
    this.troubles[trouble] = (this.troubles[trouble] ?? 0) + 1;
    this.did.push(trouble);
    await this.ingest(trouble, random);
    await this.ask(trouble, random);
    await this.report(trouble, random);
    if (cycle % CHECK_EVERY === 0 || last) await this.compare();
    const found = this.wrong.map((fault) => `cycle ${cycle} (${this.did.join("; ")}): ${fault}`);
    this.faults.push(...found);
    return { did: this.did, faults: found };
  }

  private async ingest(trouble: string, random: Random): Promise<void> {
    if (trouble === "kill ingest") await this.kill(["ingest"], random);
    if (trouble === "full disk, ingest") await this.onFullDisk(["ingest"], random);
    if (trouble === "two at once") await this.twoAtOnce(random);
    if (trouble === "spoilt export") await this.onSpoiltExport(random);
    await this.run(["ingest"], [0, 3]);
    await this.look();
    const unread = await unreadFiles(this.how.folder, this.exports.cards()).catch((error: Error) => [error.message]);
    if (unread.length > 0) this.wrong.push(`not read: ${unread.join(", ")}`);
  }

  private async ask(trouble: string, random: Random): Promise<void> {
    const question = random.pick(QUESTIONS);
    if (trouble === "kill question") await this.kill(question.split(" "), random);
    const { out } = await this.run([...question.split(" "), "--json"], question === "audit" ? [0, 3] : [0]);
    try {
      JSON.parse(out);
    } catch {
      this.wrong.push(`${question} gives no JSON: ${out.slice(0, 200)}`);
    }
  }

  private async report(trouble: string, random: Random): Promise<void> {
    const command = random.chance(0.5) ? ["report"] : ["run"];
    if (trouble === "kill report") await this.kill(command, random);
    if (trouble === "full disk, report") await this.onFullDisk(command, random);
    await this.run(command, [0, 3]);
    await this.look();
    const left = leftovers(this.how.folder, this.how.temporary);
    if (left.length > 0) this.wrong.push(`left lying: ${left.join(", ")}`);
    const processes = processesIn(this.how.folder);
    if (processes.length > 0) this.wrong.push(`still running: ${processes.join(", ")}`);
  }

  /** Runs a command; another status than these is wrong. How long it takes where nobody disturbs it is kept. */
  private async run(args: string[], allowed: number[], how?: Partial<HowToRun>): Promise<Ran> {
    const ran = await runTimed({ ...this.how, ...how }, [...args, "--quiet"]);
    this.judge(args, ran);
    if (ran.signal === null && !allowed.includes(ran.status ?? -1)) {
      this.wrong.push(`${args.join(" ")} ended with ${ran.status}: ${ran.err}${ran.out.slice(0, 300)}`);
    }
    if (ran.status === 1 && allowed.includes(1)) this.refused++;
    if (how === undefined) this.usual.set(args[0]!, ran.ms);
    return ran;
  }

  /** What no command may do, whatever is done to it. */
  private judge(args: string[], { err, hung, status }: Ran): void {
    if (hung) this.wrong.push(`${args.join(" ")} hangs`);
    if (/^ {4}at |fault of the program/m.test(err)) this.wrong.push(`${args.join(" ")} crashed: ${err}`);
    if (status !== null && status !== 0 && status !== 3 && err === "") {
      this.wrong.push(`${args.join(" ")} ended with ${status} and said nothing`);
    }
  }

  private async look(): Promise<void> {
    this.wrong.push(...(await storeFaults(this.how.folder)));
  }

  private async kill(args: string[], random: Random): Promise<void> {
    const usual = this.usual.get(args[0]!) ?? 1_500;
    const { signal } = await this.run(args, [0, 3], { killAfter: random.uniform() * usual });
    if (signal === "SIGKILL") this.killed++;
    await this.look();
  }

  private async onFullDisk(args: string[], random: Random): Promise<void> {
    if (this.exports.cards().length > 0) this.did.push(this.exports.change(random));
    const left = random.integer(0, 1_500_000);
    if (!this.hasDisk) {
      await this.run(args, [0, 1, 3], { fileBlocks: Math.ceil((storeBytes(this.how.folder) + left) / 512) });
    } else {
      const makeRoom = fillDisk(this.how.folder, left);
      await this.run(args, [0, 1, 3], {});
      makeRoom();
    }
    await this.look();
  }

  private async twoAtOnce(random: Random): Promise<void> {
    const other = random.pick([["ingest"], ["run"], ["life"]]);
    const both = await Promise.all([["ingest"], other].map((args) => runTimed(this.how, [...args, "--quiet"])));
    for (const ran of both) {
      this.judge(other, ran);
      if (ran.status === 1 && !ran.err.includes("is in use by")) this.wrong.push(`two at once: ${ran.err}`);
    }
    await this.look();
  }

  private async onSpoiltExport(random: Random): Promise<void> {
    const path = random.pick(this.exports.cards());
    const { how, mend } = spoil(join(this.how.folder, path), random);
    this.did.push(`${path} ${how}`);
    await this.run(["ingest"], [0, 1, 3], {});
    if (random.chance(0.3)) await this.run(["report"], [0, 1, 3], {});
    mend();
    await this.look();
  }

  /** The records are those of a store that has seen nothing but the files as they are now, and the store is about as large. */
  private async compare(): Promise<void> {
    this.exports.restore();
    await this.run(["ingest", "--forget"], [0, 3]);
    await this.look();
    rmSync(this.clean, { recursive: true, force: true });
    mkdirSync(this.clean);
    for (const part of ["framelife.yaml", "exports", "aliases.csv"]) {
      if (!existsSync(join(this.how.folder, part))) continue;
      cpSync(join(this.how.folder, part), join(this.clean, part), { recursive: true, force: true });
    }
    await this.run(["ingest"], [0, 3], { folder: this.clean });
    const [found, expected] = [await recordsOf(this.how.folder), await recordsOf(this.clean)];
    this.wrong.push(...differences(found, expected));
    if ((expected.get("rebuild") ?? []).length < 50) this.wrong.push("hardly any records: nothing was looked at");
    const [own, fresh] = [storeBytes(this.how.folder), storeBytes(this.clean)];
    this.growth.push(own / fresh);
    if (own > GROWTH * fresh + SLACK) this.wrong.push(`the store has ${own} bytes, a fresh one ${fresh}`);
  }
}
