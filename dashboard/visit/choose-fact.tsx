/** The expected step first, large; everything else that can happen below. */
import { hashFor } from '../route.ts';
import { nuc } from '../state/farm.ts';
import { useResource } from '../state/resource.ts';
import { formFor, kindsFor } from './by-method.ts';
import { factForStep } from './expected.ts';
import type { RememberedNuc } from './remembered-nucs.ts';

export function ChooseFact({ one }: { one: RememberedNuc }) {
  const method = (useResource(nuc(one.id)).data ?? one).setup?.method;
  const expected = one.step ? factForStep(one.step) : undefined;
  return (
    <section aria-label="What did you do?">
      <h2>What did you do?</h2>
      {one.step && expected && (
        <a class="expected-step" href={hashFor('log', undefined, { nuc: one.id, kind: expected })}>
          <span class="soft">expected now: {one.step.label}</span>
          <b>{formFor(expected, method).title}</b>
        </a>
      )}
      <ul class="fact-kinds">
        {kindsFor(method)
          .filter((kind) => kind !== expected)
          .map((kind) => (
            <li key={kind}>
              <a href={hashFor('log', undefined, { nuc: one.id, kind })}>{formFor(kind, method).title}</a>
            </li>
          ))}
      </ul>
    </section>
  );
}
