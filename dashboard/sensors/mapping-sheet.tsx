/** Says what a message means, on the message itself, and shows what comes of it before it is saved. */
import { useEffect, useState } from 'preact/hooks';
import type { Channel } from '../../server/contract/sensors.ts';
import type { ResponseOf } from '../../server/contract/index.ts';
import { call } from '../api/client.ts';
import { wordsOf } from '../api/trouble.ts';
import { reading } from '../format/units.ts';
import { Act } from '../parts/act.tsx';
import { Choice, LongText, Pick, Text } from '../parts/fields.tsx';
import type { SheetState } from '../parts/sheet.tsx';
import { Sheet } from '../parts/sheet.tsx';
import { channels, mappings, quarantine } from '../state/farm.ts';
import { display } from '../state/session.ts';
import { newId } from '../visit/new-id.ts';
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
  const [topic, setTopic] = useState('');
  const [payload, setPayload] = useState('');
  return (
    <>
      <Text label="Topic" value={topic} onValue={setTopic} hint="such as shed/node-4/state" />
      <LongText label="Message" value={payload} onValue={setPayload} rows={5} />
      <button
        type="button"
        class="main"
        disabled={topic.trim() === '' || payload.trim() === ''}
        onClick={() => {
          onMessage({ topic: topic.trim(), payload: payload.trim() });
        }}
      >
        Read it
      </button>
    </>
  );
}

const tryAfterMs = 250;
type Tried = ResponseOf<'tryMapping'>;

function Editor({ message, done }: { message: Message; done: () => void }) {
  const leaves = leavesOf(message.payload);
  const [draft, setDraft] = useState<Draft>(() => draftFrom(message.topic, leaves));
  const [tried, setTried] = useState<Tried | undefined>();
  const [problem, setProblem] = useState('');
  const [id] = useState(newId);
  useEffect(() => {
    const timer = setTimeout(() => {
      call('tryMapping', {
        body: { mapping: toMapping(draft), topic: message.topic, payload: message.payload },
      }).then(
        (answer) => {
          setTried(answer);
          setProblem('');
        },
        (error: unknown) => {
          setProblem(wordsOf(error));
        },
      );
    }, tryAfterMs);
    return () => {
      clearTimeout(timer);
    };
  }, [draft, message]);
  const save = async (): Promise<void> => {
    await call('putMapping', {
      params: { id },
      body: { name: draft.name, enabled: true, mapping: toMapping(draft) },
    });
    await Promise.all([mappings.reload(), quarantine.reload(), channels.reload()]);
    done();
  };
  return (
    <>
      <p class="soft">
        Topic <code>{message.topic}</code>
      </p>
      <pre class="payload" tabIndex={0} aria-label="The message">
        {message.payload}
      </pre>
      <SensorName draft={draft} onDraft={setDraft} />
      <h3>Which figures are readings?</h3>
      {leaves === undefined || leaves.length === 0 ? (
        <p class="notice">This is neither a number nor JSON, so no figure can be picked out of it.</p>
      ) : (
        <ul class="leaves">
          {leaves
            .filter((leaf) => numberIn(leaf) !== undefined)
            .map((leaf) => (
              <LeafRow key={leaf.pointer} leaf={leaf} draft={draft} onDraft={setDraft} />
            ))}
        </ul>
      )}
      <Outcome tried={tried} problem={problem} />
      <Text
        label="Name of this mapping"
        value={draft.name}
        onValue={(name) => {
          setDraft({ ...draft, name });
        }}
      />
      <Act main run={save} disabled={tried?.ok !== true}>
        Save the mapping
      </Act>
    </>
  );
}

function SensorName({ draft, onDraft }: { draft: Draft; onDraft: (draft: Draft) => void }) {
  const levels = draft.topic.split('/');
  return (
    <>
      <Choice
        label="The sensor’s name is"
        value={String(draft.sensorLevel)}
        onValue={(value) => {
          onDraft({ ...draft, sensorLevel: Number(value) });
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
            onDraft({ ...draft, sensorText });
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
  readonly draft: Draft;
  readonly onDraft: (draft: Draft) => void;
}

function LeafRow({ leaf, draft, onDraft }: LeafRowProps) {
  const value = draft.values.find((one) => one.pointer === leaf.pointer);
  const replace = (next: DraftValue | undefined): void => {
    const others = draft.values.filter((one) => one.pointer !== leaf.pointer);
    onDraft({ ...draft, values: next ? [...others, next] : others });
  };
  const choose = (quantity: string): void => {
    if (quantity === '') {
      replace(undefined);
      return;
    }
    const as = quantity as Channel['quantity'];
    const guessed = guess(leaf.pointer);
    const unit = guessed?.quantity === as ? guessed.unit : (unitsFor[as][0] ?? '');
    const twin = draft.values.some((one) => one.quantity === as && one.pointer !== leaf.pointer);
    replace({
      pointer: leaf.pointer,
      quantity: as,
      unit,
      probe: twin ? (leaf.pointer.split('/').at(-1) ?? '') : '',
    });
  };
  // The brood frame's and the cage's probes may come in messages of their own.
  const severalProbes =
    value?.quantity === 'temperature' ||
    draft.values.some((one) => one.quantity === value?.quantity && one.pointer !== leaf.pointer);
  const name = leaf.pointer === '' ? 'the number' : leaf.pointer;
  return (
    <li>
      <p>
        <code>{name}</code> <b>{String(leaf.value)}</b>
      </p>
      <Pick
        label="is"
        about={name}
        value={value?.quantity ?? ''}
        onValue={choose}
        options={[
          { value: '', words: 'not a reading' },
          ...Object.entries(quantityWords).map(([key, words]) => ({ value: key, words })),
        ]}
      />
      {value && (
        <>
          <Pick
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

function Outcome({ tried, problem }: { tried: Tried | undefined; problem: string }) {
  if (problem !== '')
    return (
      <p class="fault" role="alert">
        {problem}
      </p>
    );
  if (!tried) return <p class="soft">Trying it …</p>;
  return (
    <div class="outcome" role="status">
      <h3>What comes of it</h3>
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
