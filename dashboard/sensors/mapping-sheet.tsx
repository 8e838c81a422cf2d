/** Says what a message means, on the message itself, and shows what comes of it before it is saved. */
import { useState } from 'preact/hooks';
import type { Channel } from '../../server/contract/sensors.ts';
import type { BodyOf, ResponseOf } from '../../server/contract/index.ts';
import { call, newId } from '../api/client.ts';
import { reading } from '../format/units.ts';
import { Choice, LongText, Select, Text, optionsOf } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import type { SheetState } from '../parts/sheet.tsx';
import { Sheet } from '../parts/sheet.tsx';
import { channelsChanged } from '../state/farm.ts';
import { resourceFamily, useAnswer } from '../state/resource.ts';
import { display } from '../state/session.ts';
import { quantityWords } from '../words/labels.ts';
import type { Leaf } from './leaves.ts';
import { leavesOf, numberIn } from './leaves.ts';
import type { Draft, DraftValue } from './mapping-draft.ts';
import { draftFrom, guess, toMapping, topicFilter, unitsFor, unitWords } from './mapping-draft.ts';

export interface Message {
  readonly topic: string;
  readonly payload: string;
}

interface MappingSheetProps {
  readonly of: SheetState;
  /** Undefined: one is pasted. */
  readonly message: Message | undefined;
}

export function MappingSheet({ of, message }: MappingSheetProps) {
  const [given, setGiven] = useState<Message | undefined>(message);
  return (
    <Sheet of={of} title="What does this message mean?" wide>
      {given ? (
        <Editor key={given.topic + given.payload} message={given} done={of.close} />
      ) : (
        <Paste onMessage={setGiven} />
      )}
    </Sheet>
  );
}

function Paste({ onMessage }: { onMessage: (message: Message) => void }) {
  const form = useForm({ topic: '', payload: '' }, async ({ topic, payload }) => {
    await Promise.resolve();
    onMessage({ topic: topic.trim(), payload: payload.trim() });
  });
  const { topic, payload } = form.values;
  return (
    <Form of={form}>
      <Text label="Topic" {...form.field('topic')} hint="such as shed/node-4/state" />
      <LongText label="Message" {...form.field('payload')} rows={5} />
      <Submit of={form} disabled={topic.trim() === '' || payload.trim() === ''}>
        Read it
      </Submit>
    </Form>
  );
}

type Tried = ResponseOf<'tryMapping'>;
const tries = resourceFamily((key) => call('tryMapping', { body: JSON.parse(key) as BodyOf<'tryMapping'> }));

function Editor({ message, done }: { message: Message; done: () => void }) {
  const leaves = leavesOf(message.payload);
  const [id] = useState(newId);
  const form = useForm<Draft>(
    () => draftFrom(message.topic, leaves),
    async (draft) => {
      await call('putMapping', {
        params: { id },
        body: { name: draft.name, enabled: true, mapping: toMapping(draft) },
      });
      await channelsChanged();
      done();
    },
  );
  const draft = form.values;
  const asked = draft.values.length > 0 ? { mapping: toMapping(draft), ...message } : undefined;
  const { data: tried, trouble } = useAnswer(tries, asked);
  const numbers = leaves?.filter((leaf) => numberIn(leaf) !== undefined) ?? [];
  return (
    <Form of={form}>
      <p class="soft">
        Topic <code>{message.topic}</code>
      </p>
      <pre class="payload" tabIndex={0} aria-label="The message">
        {message.payload}
      </pre>
      <SensorName draft={draft} onDraft={form.set} />
      <h3>Which figures are readings?</h3>
      {leaves === undefined || leaves.length === 0 ? (
        <p class="notice">This is neither a number nor JSON, so no figure can be picked out of it.</p>
      ) : (
        <ul class="leaves">
          {numbers.map((leaf) => (
            <LeafRow key={leaf.pointer} leaf={leaf} {...form.field('values')} />
          ))}
        </ul>
      )}
      {asked && <Outcome tried={tried} problem={trouble?.message} />}
      <Text label="Name of this mapping" {...form.field('name')} />
      <Submit of={form} disabled={!asked || tried?.ok !== true}>
        Save the mapping
      </Submit>
    </Form>
  );
}

function SensorName({ draft, onDraft }: { draft: Draft; onDraft: (change: Partial<Draft>) => void }) {
  const levels = draft.topic.split('/');
  return (
    <>
      <Choice
        label="The sensor’s name is"
        value={String(draft.sensorLevel)}
        onValue={(value) => {
          onDraft({ sensorLevel: Number(value) });
        }}
        options={[
          ...levels.map((level, i) => ({ value: String(i), words: `“${level}” in the topic` })),
          { value: '-1', words: 'a name of my own' },
        ]}
      />
      {draft.sensorLevel < 0 ? (
        <Text
          label="Name"
          value={draft.sensorText}
          onValue={(sensorText) => {
            onDraft({ sensorText });
          }}
        />
      ) : (
        <p class="soft">
          Read from every topic like <code>{topicFilter(draft)}</code>.
        </p>
      )}
    </>
  );
}

interface LeafRowProps {
  readonly leaf: Leaf;
  /** Those of all leaves. */
  readonly value: readonly DraftValue[];
  readonly onValue: (value: readonly DraftValue[]) => void;
}

/** One leaf taken as a quantity: the likeliest unit, and a probe's name where another leaf has the same. */
function valueOf(
  { pointer }: Leaf,
  quantity: Channel['quantity'],
  others: readonly DraftValue[],
): DraftValue {
  const guessed = guess(pointer);
  return {
    pointer,
    quantity,
    unit: guessed?.quantity === quantity ? guessed.unit : (unitsFor[quantity][0] ?? ''),
    probe: others.some((one) => one.quantity === quantity) ? (pointer.split('/').at(-1) ?? '') : '',
  };
}

function LeafRow({ leaf, value: all, onValue }: LeafRowProps) {
  const value = all.find((one) => one.pointer === leaf.pointer);
  const others = all.filter((one) => one.pointer !== leaf.pointer);
  const replace = (next: DraftValue): void => {
    onValue([...others, next]);
  };
  // The brood frame's and the cage's probes may come in messages of their own.
  const severalProbes =
    value?.quantity === 'temperature' || others.some((one) => one.quantity === value?.quantity);
  const name = leaf.pointer === '' ? 'the number' : leaf.pointer;
  return (
    <li>
      <p>
        <code>{name}</code> <b>{String(leaf.value)}</b>
      </p>
      <Select
        label="is"
        about={name}
        value={value?.quantity ?? ''}
        onValue={(quantity) => {
          onValue(quantity === '' ? others : [...others, valueOf(leaf, quantity, others)]);
        }}
        options={[{ value: '', words: 'not a reading' }, ...optionsOf(quantityWords)]}
      />
      {value && (
        <>
          <Select
            label="in"
            about={name}
            value={value.unit}
            onValue={(unit) => {
              replace({ ...value, unit });
            }}
            options={unitsFor[value.quantity].map((unit) => ({
              value: unit,
              words: unitWords[unit] ?? unit,
            }))}
          />
          {severalProbes && (
            <Text
              label="Which probe"
              about={name}
              value={value.probe}
              onValue={(probe) => {
                replace({ ...value, probe });
              }}
            />
          )}
        </>
      )}
    </li>
  );
}

function Outcome({ tried, problem }: { tried: Tried | undefined; problem: string | undefined }) {
  if (problem !== undefined)
    return (
      <p class="fault" role="alert">
        {problem}
      </p>
    );
  if (!tried) return <p class="soft">Trying it …</p>;
  return (
    <div class="outcome" role="status">
      <h3>Result</h3>
      {!tried.ok && <p class="fault">{tried.reason ?? 'Nothing yet.'}</p>}
      <ul>
        {tried.readings.map((one) => (
          <li key={`${one.sensor}${one.quantity}${one.probe}`}>
            <b>{reading(one.value, one.unit, display.value)}</b> {quantityWords[one.quantity]}
            {one.probe !== '' && ` (${one.probe})`} from <bdi>{one.sensor}</bdi>
            {one.note !== undefined && <span class="soft"> {one.note}</span>}
          </li>
        ))}
      </ul>
    </div>
  );
}
