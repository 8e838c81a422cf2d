/** The field log of this nuc. Nothing in it is changed; a correction is another entry. */
import { newId } from '../api/client.ts';
import type { NucDetail } from '../../server/contract/nucs.ts';
import { filled } from '../format/typed.ts';
import { dayAndTime } from '../format/when.ts';
import { hashFor } from '../route.ts';
import { serverMinute, serverNow } from '../state/live.ts';
import { mayHelp } from '../state/session.ts';
import { write } from '../visit/outbox.ts';
import { LongText } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import { Sheet, useSheet } from '../parts/sheet.tsx';

type Line = NucDetail['log'][number];

export function NucLog({ one, zone }: { one: NucDetail; zone: string }) {
  const newestFirst = [...one.log].reverse();
  return (
    <>
      {one.contradictions.map((words) => (
        <p key={words} class="clash">
          <b>This does not fit together.</b> {words}
        </p>
      ))}
      {newestFirst.length === 0 && <p class="soft">Nothing is written down yet.</p>}
      <ol class="log-lines">
        {newestFirst.map((line) => (
          <LogLine key={line.entry.id} line={line} nuc={one} zone={zone} />
        ))}
      </ol>
    </>
  );
}

/** The note of a fact stands at the end of its text as well. */
const withoutNote = ({ text, entry: { note } }: Line): string =>
  note !== undefined && text.endsWith(` — ${note}`) ? text.slice(0, -` — ${note}`.length) : text;

function LogLine({ line, nuc, zone }: { line: Line; nuc: NucDetail; zone: string }) {
  const now = serverMinute.value;
  const isCorrected = line.correctedBy !== undefined && !line.movedHere;
  const out = line.withdrawn || isCorrected;
  return (
    <li class={out ? 'out' : ''}>
      <p>
        <span class="soft">
          day {Math.floor(line.day)}, {dayAndTime(Date.parse(line.happenedAt), zone, now)}
          {line.entry.by !== undefined && (
            <>
              , <bdi>{line.entry.by}</bdi>
            </>
          )}
          {line.entry.onBehalfOf !== undefined && (
            <>
              {' '}
              for <bdi>{line.entry.onBehalfOf}</bdi>
            </>
          )}
        </span>
        <br />
        {withoutNote(line)}
        {line.withdrawn && <b> (withdrawn)</b>}
        {!line.withdrawn && isCorrected && <b> (corrected)</b>}
      </p>
      {line.entry.note !== undefined && (
        <p class="note">
          <bdi>{line.entry.note}</bdi>
        </p>
      )}
      {!out && mayBeCorrected(line, nuc) && mayHelp.value && <Correct line={line} nuc={nuc} />}
    </li>
  );
}

/** A correction can be wrong too; one that was taken back has left the entry as it was. */
function mayBeCorrected({ entry }: Line, { log }: NucDetail): boolean {
  if (entry.type === 'fact' || entry.replacement) return true;
  const corrected = log.find((line) => line.entry.id === entry.corrects)?.entry;
  return entry.moveTo === undefined && corrected?.type === 'fact';
}

/** What withdraws a fact, or takes a correction back. */
function takingBack({ entry }: Line) {
  if (entry.type === 'fact')
    return { why: 'Or withdraw it; why?', button: 'It did not happen: withdraw it', words: 'withdraws' };
  return entry.replacement
    ? { why: 'Or take it back; why?', button: 'It was right before: take this back', words: 'takes back' }
    : { why: 'Why?', button: 'It did happen: take this back', words: 'takes back' };
}

function Correct({ line, nuc }: { line: Line; nuc: NucDetail }) {
  const sheet = useSheet();
  return (
    <>
      <button type="button" class="plain" onClick={sheet.show}>
        Correct<span class="hidden-words">: {line.text}</span>
      </button>
      <Sheet of={sheet} title="Correct this entry">
        <p>{line.text}</p>
        <p>The entry stays in the log; what you write now counts in its place.</p>
        {(line.entry.type === 'fact' || line.entry.replacement) && (
          <p>
            <a
              class="button main"
              href={hashFor('log', undefined, { nuc: nuc.hive.id, corrects: line.entry.id })}
            >
              Write it again
            </a>
          </p>
        )}
        <WithdrawForm line={line} nuc={nuc} done={sheet.close} />
      </Sheet>
    </>
  );
}

function WithdrawForm({ line, nuc, done }: { line: Line; nuc: NucDetail; done: () => void }) {
  const { why, button, words: does } = takingBack(line);
  const form = useForm({ note: '' }, async (values) => {
    const now = Math.round(serverNow.peek());
    const entry = {
      type: 'correction' as const,
      id: newId(),
      introductionId: line.entry.introductionId,
      happenedAtMs: now,
      writtenAtMs: now,
      corrects: line.entry.id,
      ...filled(values),
    };
    const words = `${does}: ${line.text}`;
    await write([{ entry, nucId: nuc.hive.id, nucName: nuc.hive.name, words, problems: [] }]);
    done();
  });
  return (
    <Form of={form}>
      <LongText label={why} {...form.field('note')} />
      <Submit of={form} main={false}>
        {button}
      </Submit>
    </Form>
  );
}
