/** One fact: what to look for, its figures, when it happened, and the button that keeps it. */
import { useState } from 'preact/hooks';
import type { Fact, FactKind, LogEntry } from '../api/facts.ts';
import { wordsOf } from '../api/trouble.ts';
import { instantAt, localDate, localTime } from '../format/calendar.ts';
import { dayAndTime } from '../format/when.ts';
import { Caution } from '../parts/caution.tsx';
import { LongText, Text } from '../parts/fields.tsx';
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
  const [values, setValues] = useState(start);
  const [earlier, setEarlier] = useState(happenedAtMs !== undefined);
  const [day, setDay] = useState(() => localDate(happenedAtMs ?? serverNow.peek(), zone));
  const [time, setTime] = useState(() => localTime(happenedAtMs ?? serverNow.peek(), zone));
  const [note, setNote] = useState('');
  const [problem, setProblem] = useState('');
  const [kept, setKept] = useState<string | undefined>();
  const form = formFor(kind, (nuc(one.id).known.value.data ?? one).setup?.method);
  if (kept !== undefined) return <Kept id={kept} one={one} />;

  const save = async (): Promise<void> => {
    const lacks = missing(kind, values);
    if (lacks !== undefined) {
      setProblem(lacks);
      return;
    }
    const writtenAtMs = Math.round(serverNow.peek());
    const fact = toFact(kind, values);
    const envelope = {
      id: newId(),
      introductionId: one.introductionId ?? '',
      writtenAtMs,
      ...(note.trim() === '' ? {} : { note: note.trim() }),
    };
    const atMs = earlier ? instantAt(day, time, zone) : writtenAtMs;
    const entry: LogEntry =
      corrects === undefined
        ? { ...envelope, type: 'fact', happenedAtMs: atMs, fact }
        : {
            ...envelope,
            type: 'correction',
            happenedAtMs: writtenAtMs,
            corrects,
            replacement: fact,
            replacementHappenedAtMs: atMs,
          };
    try {
      await write({ entry, nucName: one.name, words: inFewWords(fact), problems: [] });
      setKept(entry.id);
    } catch (error) {
      setProblem(wordsOf(error));
    }
  };
  return (
    <form
      class="fact-form"
      onSubmit={(event) => {
        event.preventDefault();
        void save();
      }}
    >
      <h2>{corrects === undefined ? form.title : `Corrected: ${form.title}`}</h2>
      <Advice one={one} kind={kind} />
      {form.lookFor.length > 0 && (
        <ul class="look-for">
          {form.lookFor.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      )}
      {form.cautions.map((about) => (
        <Caution key={about} about={about} />
      ))}
      <FactFields fields={form.fields} values={values} onValues={setValues} />
      <div class="when">
        {earlier ? (
          <>
            <Text
              type="date"
              label="Day"
              value={day}
              onValue={setDay}
              max={localDate(serverMinute.value, zone)}
            />
            <Text type="time" label="Time at the site" value={time} onValue={setTime} />
          </>
        ) : (
          <p>
            Happened just now, {dayAndTime(serverMinute.value, zone, serverMinute.value)}.{' '}
            <button
              type="button"
              onClick={() => {
                setEarlier(true);
              }}
            >
              Earlier …
            </button>
          </p>
        )}
      </div>
      <LongText label="Note" value={note} onValue={setNote} rows={2} />
      {problem !== '' && (
        <p class="fault" role="alert">
          {problem}
        </p>
      )}
      <p class="save">
        <button type="submit" class="main big">
          Keep it
        </button>
      </p>
    </form>
  );
}

/** What the gate says about doing this now, where it does not say go. */
function Advice({ one, kind }: { one: RememberedNuc; kind: FactKind }) {
  const detail = nuc(one.id).known.value.data;
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
