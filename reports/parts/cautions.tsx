import { WORK_CAUTIONS } from "../../src/questions/work-cautions.ts";
import { DEFERRAL, STATISTICAL_CAUTIONS } from "../text/cautions.ts";

/** The cautions that every page carries, and those of the workspace. */
export function Cautions({ own }: { own: string[] }) {
  return (
    <div class="cautions">
      <p>{DEFERRAL}</p>
      <div class="columns">
        <div>
          <h3>At the bench and on site</h3>
          <List sentences={WORK_CAUTIONS} />
        </div>
        <div>
          <h3>Reading the figures</h3>
          <List sentences={[...STATISTICAL_CAUTIONS, ...own]} />
        </div>
      </div>
    </div>
  );
}

function List({ sentences }: { sentences: string[] }) {
  return (
    <ul>
      {sentences.map((sentence) => (
        <li key={sentence}>{sentence}</li>
      ))}
    </ul>
  );
}
