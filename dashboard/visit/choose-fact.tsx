/** The expected step first, large; everything else that can happen below. */
import { hashFor } from '../route.ts';
import { factForStep } from './expected.ts';
import { forms, kindsInOrder } from './forms.ts';
import type { RememberedNuc } from './remembered-nucs.ts';

export function ChooseFact({ one }: { one: RememberedNuc }) {
  const expected = one.step ? factForStep(one.step) : undefined;
  return (
    <section aria-label="What did you do?">
      <h2>What did you do?</h2>
      {one.step && expected && (
        <a class="expected-step" href={hashFor('log', undefined, { nuc: one.id, kind: expected })}>
          <span class="soft">expected now: {one.step.label}</span>
          <b>{forms[expected].title}</b>
        </a>
      )}
      <ul class="fact-kinds">
        {kindsInOrder
          .filter((kind) => kind !== expected)
          .map((kind) => (
            <li key={kind}>
              <a href={hashFor('log', undefined, { nuc: one.id, kind })}>{forms[kind].title}</a>
            </li>
          ))}
      </ul>
    </section>
  );
}
