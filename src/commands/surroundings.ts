/** What a command may touch of the world around it; tests hand in one that records. */
export type Surroundings = {
  /** Answers go here (standard output). */
  print: (text: string) => void;
  /** Progress and notices go here (standard error). */
  notice: (text: string) => void;
  /** Folder that relative paths are meant from. */
  folder: string;
  /** The day it is, YYYY-MM-DD. */
  today: () => string;
  /** Standard output is a terminal: colour is allowed. */
  colour: boolean;
  /** Standard error is a terminal: progress bars are allowed. */
  progress: boolean;
  /** Asks a person and waits for the answer; only where standard input and output are a terminal. */
  ask?: (question: string) => Promise<string>;
  /** Bytes of memory that a database engine may take, where the user said; the program fills it in. */
  memory?: number;
  /** The exit status, where it is not 0 although the command answered. */
  setStatus: (status: 1 | 3) => void;
  /** Where the program is a process of its own, which commands that stay need. */
  process?: OwnProcess;
};

/** How a process ended: its exit status or the name of the signal, and what it said on standard output and standard error. */
export type Ended = { status: number | string; out: string; err: string };

export type OwnProcess = {
  /** Starts the program a second time, as a process beside this one. */
  startAgain: (args: string[], folder: string) => Promise<{ ended: Promise<Ended>; kill: () => void }>;
  /** Has `stop` called when the user ends the program (Ctrl-C, or the terminal closes), and the exit status tell so. */
  whenStopped: (stop: () => void) => void;
  /**
   * Until it is taken back: where the user ends the program, has it say what holds before it ends. What is under way is not awaited: nothing
   * holds but what is committed.
   * @returns takes it back
   */
  tellWhenStopped: (holds: () => string) => () => void;
};
