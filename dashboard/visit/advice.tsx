/** What the gate says about doing this now, where it does not say go. */
import { useEffect } from 'preact/hooks';
import type { FactKind } from '../api/facts.ts';
import { hashFor } from '../route.ts';
import { awaited } from '../state/awaited.ts';
import { nuc } from '../state/farm.ts';
import { answerOf } from '../words/labels.ts';
import { dueActs, gateForFact } from './expected.ts';
import type { RememberedNuc } from './remembered-nucs.ts';

interface Said {
  readonly question: string;
  readonly answer: string;
  readonly headline: string;
  readonly nucs: readonly RememberedNuc[];
}

function gateOf(one: RememberedNuc, kind: FactKind): Omit<Said, 'nucs'> | undefined {
  // Where the plan asks for the look itself, no gate speaks against it.
  if (kind === 'inspection' && dueActs(one).includes(kind)) return undefined;
  const detail = nuc(one.id).snapshot.value.data;
  const wanted = gateForFact(kind, one.setup?.method);
  const full = detail?.gates.find((gate) => gate.gate === wanted);
  // Without signal, in a nuc whose page this phone never opened, the list of nucs still knows this one gate.
  const gate = full ?? (wanted === 'open-candy' ? one.candyGate : undefined);
  if (!gate || gate.answer === 'go') return undefined;
  return { question: full?.question ?? 'As last known:', answer: answerOf(gate), headline: gate.headline };
}

export function Advice({ nucs, acts }: { nucs: readonly RememberedNuc[]; acts: readonly FactKind[] }) {
  const ids = nucs.map(({ id }) => id).join(' ');
  useEffect(() => {
    const stops = ids === '' ? [] : ids.split(' ').map((id) => nuc(id).watch());
    return () => {
      for (const stop of stops) stop();
    };
  }, [ids]);
  const said = new Map<string, Said>();
  for (const kind of acts) {
    for (const one of nucs) {
      const gate = gateOf(one, kind);
      if (!gate) continue;
      const key = `${gate.question} ${gate.headline}`;
      said.set(key, { ...gate, nucs: [...(said.get(key)?.nucs ?? []), one] });
    }
  }
  const waiting = nucs.some(({ id }) => awaited.value.has(id));
  return (
    <>
      {waiting && <p class="notice">New answers come once your last entry is stored.</p>}
      {[...said].map(([key, { question, answer, headline, nucs: those }]) => (
        <p key={key} class="notice">
          {nucs.length > 1 && (
            <>
              <bdi>{those.map(({ name }) => name).join(', ')}</bdi>:{' '}
            </>
          )}
          {question} <b>{answer}.</b> {headline}{' '}
          {those.length === 1 && <a href={hashFor('nucs', those[0]?.id)}>Reasons</a>}
        </p>
      ))}
    </>
  );
}
