/** One fact: what to look for, its figures, when it happened, and the button that keeps it. */
import { useState } from 'preact/hooks';
import type { Fact, FactKind, LogEntry } from '../api/facts.ts';
import { instantAt, localDate, localTime } from '../format/calendar.ts';
import { filled } from '../format/typed.ts';
import { dayAndTime } from '../format/when.ts';
import { Caution } from '../parts/caution.tsx';
import { LongText, Text } from '../parts/fields.tsx';
import type { FormState } from '../parts/form.tsx';
import { BigSubmit, Form, useForm } from '../parts/form.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { hashFor } from '../route.ts';
import { nuc } from '../state/farm.ts';
import { serverMinute, serverNow } from '../state/live.ts';
import { useResource } from '../state/resource.ts';
import { formFor } from './by-method.ts';
import { gateForFact } from './expected.ts';
import { FactFields } from './fact-fields.tsx';
import type { Values } from './forms.ts';
import { newId } from './new-id.ts';
import { unsent, write } from './outbox.ts';
import type { RememberedNuc } from './remembered-nucs.ts';
import { fromFact, inFewWords, missing, toFact, usualValues } from './to-fact.ts';
import { answerWords } from '../words/labels.ts';

interface FactFormProps {
  readonly one: RememberedNuc;
  readonly kind: FactKind | undefined;
  /** The entry that this one replaces. */
  readonly corrects: string | undefined;
}

export function FactForm({ one, kind: asked, corrects }: FactFormProps) {
  const detail = useResource(nuc(one.id)).data;
  const old = detail?.log.find((line) => line.entry.id === corrects)?.entry;
  const before: Fact | undefined = old?.type === 'fact' ? old.fact : undefined;
  const kind = before?.kind ?? asked;
  if (corrects !== undefined && !before) return <p role="status">Fetching the entry that is corrected …</p>;
  if (kind === undefined) return null;
  const queen = (detail ?? one).setup?.queen;
  const start = before ? fromFact(before) : usualValues(kind, queen === undefined ? {} : { queenId: queen });
  const happenedAtMs = old?.happenedAtMs;
  return (
    <Filled
      key={`${kind}${corrects ?? ''}`}
      one={one}
      kind={kind}
      corrects={corrects}
      start={start}
      happenedAtMs={happenedAtMs}
    />
  );
}

interface FilledProps {
  readonly one: RememberedNuc;
  readonly kind: FactKind;
  readonly corrects: string | undefined;
  readonly start: Values;
  readonly happenedAtMs: number | undefined;
}

function Filled({ one, kind, corrects, start, happenedAtMs }: FilledProps) {
  const zone = zoneOfSite(one.siteId);
  const [kept, setKept] = useState<string | undefined>();
  const form = useForm(
    () => ({
      fact: start,
      earlier: happenedAtMs !== undefined,
      day: localDate(happenedAtMs ?? serverNow.peek(), zone),
      time: localTime(happenedAtMs ?? serverNow.peek(), zone),
      note: '',
    }),
    async ({ fact: values, earlier, day, time, note }) => {
      const lacks = missing(kind, values);
      if (lacks !== undefined) throw new Error(lacks);
      const fact = toFact(kind, values);
      const atMs = earlier ? instantAt(day, time, zone) : undefined;
      const entry = entryFor(one, fact, atMs, note, corrects);
      await write({ entry, nucName: one.name, words: inFewWords(fact), problems: [] });
      setKept(entry.id);
    },
  );
  const { title, lookFor, cautions, fields } = formFor(
    kind,
    (nuc(one.id).snapshot.value.data ?? one).setup?.method,
  );
  if (kept !== undefined) return <Kept id={kept} one={one} />;
  return (
    <Form of={form} class="fact-form">
      <h2>{corrects === undefined ? title : `Corrected: ${title}`}</h2>
      <Advice one={one} kind={kind} />
      {lookFor.length > 0 && (
        <ul class="look-for">
          {lookFor.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      )}
      {cautions.map((about) => (
        <Caution key={about} about={about} />
      ))}
      <FactFields fields={fields} {...form.field('fact')} />
      <When form={form} zone={zone} />
      <LongText label="Note" {...form.field('note')} rows={2} />
      <BigSubmit of={form}>Keep it</BigSubmit>
    </Form>
  );
}

/** An entry for the log, of now unless it happened earlier. */
function entryFor(
  one: RememberedNuc,
  fact: Fact,
  earlierMs: number | undefined,
  note: string,
  corrects: string | undefined,
): LogEntry {
  const writtenAtMs = Math.round(serverNow.peek());
  const happenedAtMs = earlierMs ?? writtenAtMs;
  const introductionId = one.introductionId ?? '';
  const envelope = { id: newId(), introductionId, writtenAtMs, ...filled({ note }) };
  if (corrects === undefined) return { ...envelope, type: 'fact', happenedAtMs, fact };
  return {
    ...{ ...envelope, type: 'correction', happenedAtMs: writtenAtMs, corrects },
    replacement: fact,
    replacementHappenedAtMs: happenedAtMs,
  };
}

interface WhenValues {
  readonly earlier: boolean;
  readonly day: string;
  readonly time: string;
}

function When<T extends WhenValues>({ form, zone }: { form: FormState<T>; zone: string }) {
  const now = serverMinute.value;
  return (
    <div class="when">
      {form.values.earlier ? (
        <>
          <Text type="date" label="Day" {...form.field('day')} max={localDate(now, zone)} />
          <Text type="time" label="Time at the site" {...form.field('time')} />
        </>
      ) : (
        <p>
          Happened just now, {dayAndTime(now, zone, now)}.{' '}
          <button
            type="button"
            onClick={() => {
              form.field('earlier').onValue(true);
            }}
          >
            Earlier …
          </button>
        </p>
      )}
    </div>
  );
}

/** What the gate says about doing this now, where it does not say go. */
function Advice({ one, kind }: { one: RememberedNuc; kind: FactKind }) {
  const detail = nuc(one.id).snapshot.value.data;
  const wanted = gateForFact(kind, (detail ?? one).setup?.method);
  const full = detail?.gates.find((g) => g.gate === wanted);
  // Without signal, in a nuc whose page this phone never opened, the list of nucs still knows this one gate.
  const gate = full ?? (wanted === 'open-candy' ? one.candyGate : undefined);
  if (!gate || gate.answer === 'go') return null;
  return (
    <p class="notice">
      {full ? full.question : 'As last known:'} <b>{answerWords[gate.answer]}.</b> {gate.headline}{' '}
      <a href={hashFor('nucs', one.id)}>Reasons</a>
    </p>
  );
}

function Kept({ id, one }: { id: string; one: RememberedNuc }) {
  const waiting = unsent.value.find((each) => each.entry.id === id);
  return (
    <section class="kept" role="status">
      <h2>Written down.</h2>
      <p>
        {waiting === undefined
          ? 'Sent, and stored by the server.'
          : waiting.problems.length > 0
            ? 'The server did not take it; see below.'
            : 'Kept on this device, not sent yet. It is sent by itself when the server can be reached.'}
      </p>
      <p class="kept-next">
        <a class="button main" href={hashFor('log', undefined, { nuc: one.id, then: id })}>
          <span>
            More for <bdi>{one.name}</bdi>
          </span>
        </a>
        <a class="button" href={hashFor('log')}>
          Next nuc
        </a>
        <a class="button" href={hashFor('nucs', one.id)}>
          Its page
        </a>
      </p>
    </section>
  );
}
