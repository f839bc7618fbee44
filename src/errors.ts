/**
 * What the user can mend: `main.ts` prints the message alone and exits with `status`
 * (1 the data or the configuration is wrong, 2 wrong usage, 3 quarantine above the limit); the stack shows under `--debug`.
 */
export class UserError extends Error {
  override readonly name = "UserError";
  readonly status: 1 | 2 | 3;
  constructor(message: string, status: 1 | 2 | 3 = 1, options?: ErrorOptions) {
    super(message, options);
    this.status = status;
  }
}
