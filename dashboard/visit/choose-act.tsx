/** Everything that can happen to a nuc. */
import type { FactKind, IntroductionMethod } from '../api/facts.ts';
import { formFor, kindsFor } from './by-method.ts';

interface ChooseActProps {
  readonly method: IntroductionMethod | undefined;
  /** What the plan has next stands first. */
  readonly first?: FactKind | undefined;
  readonly without: readonly FactKind[];
  readonly onChoose: (kind: FactKind) => void;
}

export function ActList({ method, first, without, onChoose }: ChooseActProps) {
  const kinds = kindsFor(method).filter((kind) => !without.includes(kind));
  return (
    <ul class="fact-kinds">
      {[...kinds]
        .sort((a, b) => Number(b === first) - Number(a === first))
        .map((kind) => (
          <li key={kind}>
            <button
              type="button"
              onClick={() => {
                onChoose(kind);
              }}
            >
              {formFor(kind, method).title}
            </button>
          </li>
        ))}
    </ul>
  );
}
