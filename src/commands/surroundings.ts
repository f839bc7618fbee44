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
  /** The exit status, where it is not 0 although the command answered. */
  setStatus: (status: 1 | 3) => void;
};
