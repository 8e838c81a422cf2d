/** A visit: for which nucs, what was done, when, and the button that keeps it. */
import { useState } from 'preact/hooks';
import type { Fact, FactKind, LogEntry } from '../api/facts.ts';
import { newId } from '../api/client.ts';
import { filled } from '../format/typed.ts';
import { LongText } from '../parts/fields.tsx';
import { BigSubmit, Form, useForm } from '../parts/form.tsx';
import type { FormState } from '../parts/form.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { serverNow } from '../state/live.ts';
import { ActSection } from './act-section.tsx';
import { Advice } from './advice.tsx';
import { ActList } from './choose-act.tsx';
import type { Draft } from './draft.ts';
import { draftOf, emptyDraft, factsOf, firstGap, type DraftGap } from './draft.ts';
import { dueActs, factForStep } from './expected.ts';
import { Kept } from './kept.tsx';
import { NucChips } from './nuc-chips.tsx';
import { MissingAnswer } from './question.tsx';
import { write } from './outbox.ts';
import type { RememberedNuc } from './remembered-nucs.ts';
import { inFewWords } from './to-fact.ts';
import type { Unsent } from './unsent.ts';
import { When, happenedAt, justNow } from './when.tsx';

/** The entry that this one replaces. */
export interface Corrected {
  readonly id: string;
  readonly fact: Fact;
  readonly happenedAtMs: number;
}

interface VisitFormProps {
  readonly all: readonly RememberedNuc[];
  /** At least one. */
  readonly start: readonly RememberedNuc[];
  readonly acts: readonly FactKind[];
  readonly corrects?: Corrected | undefined;
}

function startOf({ start, acts, corrects }: VisitFormProps) {
  const ids: ReadonlySet<string> = new Set(start.map(({ id }) => id));
  const draft: Draft = corrects && start[0] ? draftOf(corrects.fact, start[0].id) : emptyDraft(acts);
  return {
    ...justNow,
    note: '',
    ids,
    draft,
    earlier: corrects !== undefined,
  };
}
type VisitValues = ReturnType<typeof startOf>;

export function VisitForm(props: VisitFormProps) {
  const { all, start, corrects } = props;
  const [first] = start;
  const zone = zoneOfSite(first?.siteId, first?.timeZone);
  const [kept, setKept] = useState<readonly Unsent[] | undefined>();
  const [gap, setGap] = useState<{ readonly at: DraftGap; readonly in: Draft } | undefined>();
  const chosenOf = (ids: ReadonlySet<string>): readonly RememberedNuc[] =>
    all.filter(({ id }) => ids.has(id));
  const form = useForm(
    () => startOf(props),
    async (values) => {
      const nucs = chosenOf(values.ids);
      const missing = firstGap(values.draft, nucs);
      setGap(missing && { at: missing, in: values.draft });
      const entries = entriesOf(values, nucs, zone, corrects);
      await write(entries);
      setKept(entries);
    },
  );
  const { ids, draft } = form.values;
  const nucs = chosenOf(ids);
  if (kept !== undefined) return <Kept written={kept} nucs={nucs} />;
  const canBeFor = all.filter(
    ({ id, siteId, introductionId, setup }) =>
      ids.has(id) ||
      (siteId === first?.siteId && introductionId !== null && setup?.method === first.setup?.method),
  );
  const closed = nucs.filter(({ introductionId }) => introductionId === null);
  return (
    <Form of={form} class="fact-form">
      {closed.length > 0 && (
        <p class="notice" role="alert">
          Somebody closed or put away <bdi>{closed.map(({ name }) => name).join(', ')}</bdi>. What you wrote
          still stands here.
        </p>
      )}
      {!corrects && (
        <NucChips
          all={canBeFor}
          first={alike(canBeFor, start)}
          chosen={ids}
          onChosen={form.field('ids').onValue}
        />
      )}
      {!corrects && <Advice nucs={nucs} acts={draft.acts} />}
      <MissingAnswer.Provider value={gap?.in === draft ? gap.at : undefined}>
        <Acts form={form} nucs={nucs} isCorrection={corrects !== undefined} />
      </MissingAnswer.Provider>
      {draft.acts.length > 0 && (
        <>
          <When form={form} zone={zone} stoodMs={corrects?.happenedAtMs} />
          <Note form={form} />
          <p class="soft">Other questions that you leave open count as not looked.</p>
          <BigSubmit of={form} disabled={nucs.length === 0}>
            {nucs.length > 1 ? `Keep for ${String(nucs.length)} nucs` : 'Keep it'}
          </BigSubmit>
        </>
      )}
    </Form>
  );
}

/** Those in which the same is due as in the first. */
function alike(all: readonly RememberedNuc[], start: readonly RememberedNuc[]): ReadonlySet<string> {
  const due = (one: RememberedNuc): string => dueActs(one).join();
  const wanted = start[0] ? due(start[0]) : '';
  return new Set(all.filter((one) => wanted !== '' && due(one) === wanted).map(({ id }) => id));
}

interface ActsProps {
  readonly form: FormState<VisitValues>;
  readonly nucs: readonly RememberedNuc[];
  readonly isCorrection: boolean;
}

function Acts({ form, nucs, isCorrection }: ActsProps) {
  const { draft } = form.values;
  const onDraft = form.field('draft').onValue;
  const setActs = (acts: readonly FactKind[]): void => {
    onDraft({ ...draft, acts });
  };
  const list = (
    <ActList
      method={nucs[0]?.setup?.method}
      first={nucs[0]?.step ? factForStep(nucs[0].step) : undefined}
      without={draft.acts}
      onChoose={(kind) => {
        setActs([...draft.acts, kind]);
      }}
    />
  );
  return (
    <>
      {draft.acts.map((kind) => (
        <ActSection
          key={kind}
          kind={kind}
          nucs={nucs}
          draft={draft}
          onDraft={onDraft}
          before={isCorrection ? 'Corrected: ' : ''}
          onRemove={
            isCorrection
              ? undefined
              : () => {
                  setActs(draft.acts.filter((other) => other !== kind));
                }
          }
        />
      ))}
      {!isCorrection &&
        (draft.acts.length === 0 ? (
          <section aria-label="What did you do?">
            <h2>What did you do?</h2>
            {list}
          </section>
        ) : (
          <details class="more-acts">
            <summary>Something else too</summary>
            {list}
          </details>
        ))}
    </>
  );
}

function Note({ form }: { form: FormState<VisitValues> }) {
  const onlyNote = form.values.draft.acts.join() === 'note';
  if (onlyNote) return <LongText label="Note" {...form.field('note')} rows={2} />;
  return (
    <details class="note-field">
      <summary>Note</summary>
      <LongText label="Note" {...form.field('note')} rows={2} />
    </details>
  );
}

/** Throws what is missing, in a sentence. */
function entriesOf(
  { draft, note, ...when }: VisitValues,
  nucs: readonly RememberedNuc[],
  zone: string,
  corrects: Corrected | undefined,
): readonly Unsent[] {
  const facts = factsOf(draft, nucs);
  if (typeof facts === 'string') throw new Error(facts);
  const nowMs = Math.round(serverNow.peek());
  const happenedAtMs = happenedAt(when, zone, corrects?.happenedAtMs);
  return facts.map(({ one, fact }, i) => {
    const { introductionId } = one;
    if (introductionId === null) throw new Error(`No introduction is open in ${one.name} any more.`);
    // A note is about the visit: it stands once for each nuc, at its first act.
    const isFirst = facts.findIndex((other) => other.one === one) === i;
    // One after the other, so that they are sent in this order: nothing is taken before the split that it rests on.
    const writtenAtMs = nowMs + i;
    const envelope = { id: newId(), introductionId, writtenAtMs, ...(isFirst ? filled({ note }) : {}) };
    const entry: LogEntry =
      corrects === undefined
        ? { ...envelope, type: 'fact', happenedAtMs, fact }
        : {
            ...envelope,
            type: 'correction',
            happenedAtMs: nowMs,
            corrects: corrects.id,
            replacement: fact,
            replacementHappenedAtMs: happenedAtMs,
          };
    return { entry, nucId: one.id, nucName: one.name, words: inFewWords(fact), problems: [] };
  });
}
