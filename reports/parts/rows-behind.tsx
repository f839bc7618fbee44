/** The command that lists what a table or chart was made of; a row's own id goes to `framelife trace`. */
export function RowsBehind({ command, only }: { command: string /** Which of its rows. */; only?: string }) {
  return (
    <>
      Records behind this{only === undefined ? "" : `, ${only}`}: <code>{command}</code>; each has an id for{" "}
      <code>framelife trace</code>.
    </>
  );
}
