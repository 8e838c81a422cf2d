/** Nucs whose queen is dead or gone and that wait for the keeper to decide: no date of a plan brings them up. */
import type { NucSummary } from '../../server/contract/nucs.ts';
import { byName } from '../format/names.ts';
import { queenLostWords } from '../nuc/queen-lost-words.ts';
import { hashFor } from '../route.ts';

export function QueensLost({ items }: { items: readonly NucSummary[] }) {
  const lost = items
    .filter(
      ({ stage, queenLost, introductionId, nextStep }) =>
        (stage === 'failed' || queenLost) && introductionId && !nextStep,
    )
    .sort((a, b) => byName(a.hive.name, b.hive.name));
  if (lost.length === 0) return null;
  return (
    <section class="visits" aria-label="Queen lost">
      <h2>Queen lost</h2>
      <ul class="lines">
        {lost.map(({ hive, siteName, ...one }) => (
          <li key={hive.id} class="line-row">
            <div>
              <p class="line-who">
                <a href={hashFor('nucs', hive.id)}>
                  <bdi>{hive.name}</bdi>
                </a>{' '}
                <span class="soft">
                  <bdi>{siteName}</bdi>
                </span>
              </p>
              <p class="line-what">{queenLostWords(one)}</p>
            </div>
            <a class="button main" href={hashFor('log', undefined, { nuc: hive.id, then: '' })}>
              Log<span class="hidden-words"> {hive.name}: queen lost</span>
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}
