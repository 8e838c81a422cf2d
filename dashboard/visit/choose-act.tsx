/** Everything that can happen to a nuc. */
import type { FactKind, IntroductionMethod } from '../api/facts.ts';
import { formFor, kindsFor } from './by-method.ts';

interface ChooseActProps {
  readonly method: IntroductionMethod | undefined;
  readonly without: readonly FactKind[];
  readonly onChoose: (kind: FactKind) => void;
}

export function ActList({ method, without, onChoose }: ChooseActProps) {
  return (
    <ul class="fact-kinds">
      {kindsFor(method)
        .filter((kind) => !without.includes(kind))
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
