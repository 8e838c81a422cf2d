/** Write down a visit, with gloves on and without signal. */
import { useEffect } from 'preact/hooks';
import { route, hashFor } from '../route.ts';
import { nucs } from '../state/farm.ts';
import { useResource } from '../state/resource.ts';
import { ChooseFact } from '../visit/choose-fact.tsx';
import { ChooseNuc } from '../visit/choose-nuc.tsx';
import { FactForm } from '../visit/fact-form.tsx';
import { forms } from '../visit/forms.ts';
import type { FactKind } from '../api/facts.ts';
import { rememberedNucs } from '../visit/remembered-nucs.ts';
import { refreshUnsent } from '../visit/outbox.ts';
import { UnsentList } from '../visit/unsent-list.tsx';
import { OfflineWords } from '../visit/offline-words.tsx';
import { EmptyState } from '../parts/resource-view.tsx';

export default function Log() {
  useResource(nucs);
  useEffect(() => void refreshUnsent(), []);
  const { query } = route.value;
  const all = rememberedNucs();
  const one = all.find((nuc) => nuc.id === query.get('nuc'));
  const corrects = query.get('corrects') ?? undefined;
  const asked = query.get('kind');
  const kind = asked !== null && asked in forms ? (asked as FactKind) : undefined;
  return (
    <div class="log-page">
      <header class="page-head">
        <h1>Log a visit</h1>
        {one && (
          <p>
            <bdi>{one.name}</bdi>, <bdi>{one.siteName}</bdi>
            {one.day !== null && `, day ${String(Math.floor(one.day))}`}{' '}
            <a class="button small" href={hashFor('log')}>
              Another nuc
            </a>
          </p>
        )}
      </header>
      {all.length === 0 && nucs.snapshot.value.data !== undefined && (
        <EmptyState title="There is no nuc to log for yet." />
      )}
      {!one && all.length > 0 && <ChooseNuc all={all} />}
      {one && one.introductionId === null && (
        <EmptyState title="No introduction is open in this nuc.">
          <p>
            <a href={hashFor('nucs', one.id)}>Open one on its page first.</a>
          </p>
        </EmptyState>
      )}
      {one && one.introductionId !== null && kind === undefined && corrects === undefined && (
        <ChooseFact one={one} />
      )}
      {one && one.introductionId !== null && (kind !== undefined || corrects !== undefined) && (
        <FactForm
          key={`${one.id} ${kind ?? ''} ${corrects ?? ''}`}
          one={one}
          kind={kind}
          corrects={corrects}
        />
      )}
      <UnsentList />
      <OfflineWords />
    </div>
  );
}
