/** Saved mappings: switched on and off, exported, imported, deleted. */
import { useState } from 'preact/hooks';
import type { BodyOf } from '../../server/contract/index.ts';
import type { MappingDto } from '../../server/contract/sensors.ts';
import { call } from '../api/client.ts';
import { ActionButton } from '../parts/action-button.tsx';
import { LongText, Checkbox } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import { saveFile } from '../parts/save-file.ts';
import { Sheet, useSheet } from '../parts/sheet.tsx';
import { EmptyState, ResourceView } from '../parts/resource-view.tsx';
import { channelsChanged, mappings } from '../state/farm.ts';
import { mayKeep } from '../state/session.ts';

/** What `takeIn` reads back; a mapping that is switched off stays so. */
function fileOf(list: readonly MappingDto[]): string {
  const mappings = list.map(({ enabled, mapping }) => (enabled ? mapping : { ...mapping, enabled }));
  return `${JSON.stringify({ format: 'welcomb-mappings', version: 1, mappings }, null, 2)}\n`;
}

export function MappingList() {
  const take = useSheet();
  const [taken, setTaken] = useState('');
  return (
    <>
      <p class="soft">What the figures mean in messages of an unknown format.</p>
      <ResourceView of={mappings} what="the mappings">
        {(data) => (
          <>
            {data.items.length === 0 && <EmptyState title="None yet." />}
            <ul class="plain-list">
              {data.items.map((one) => (
                <Row key={one.id} one={one} />
              ))}
            </ul>
            <p class="row-acts">
              {data.items.length > 0 && (
                <button
                  type="button"
                  onClick={() => {
                    saveFile('welcomb-mappings.json', fileOf(data.items), 'application/json');
                  }}
                >
                  Save all as a file
                </button>
              )}
              {mayKeep.value && (
                <button type="button" onClick={take.show}>
                  Take in from a file …
                </button>
              )}
            </p>
            <p class="soft" role="status">
              {taken}
            </p>
          </>
        )}
      </ResourceView>
      <Sheet of={take} title="Take in mappings">
        <TakeIn
          done={(words) => {
            setTaken(words);
            take.close();
          }}
        />
      </Sheet>
    </>
  );
}

function TakeIn({ done }: { done: (words: string) => void }) {
  const form = useForm({ text: '' }, async ({ text }) => {
    done(await takeIn(text));
  });
  return (
    <Form of={form}>
      <label class="file">
        <span>A file saved here or elsewhere</span>
        <input
          type="file"
          accept="application/json,.json"
          onChange={(event) => {
            void event.currentTarget.files?.[0]?.text().then(form.field('text').onValue);
          }}
        />
      </label>
      <LongText label="Or its text" {...form.field('text')} rows={6} />
      <Submit of={form} disabled={form.values.text.trim() === ''}>
        Take them in
      </Submit>
    </Form>
  );
}

/** Says what came of it. */
async function takeIn(text: string): Promise<string> {
  let file: unknown;
  try {
    file = JSON.parse(text);
  } catch {
    throw new Error('This is not JSON.');
  }
  const { added, already } = await call('importMappings', {
    body: file as BodyOf<'importMappings'>,
  });
  await channelsChanged();
  return already === 0
    ? `${String(added)} taken in.`
    : `${String(added)} taken in, ${String(already)} were there.`;
}

function Row({ one }: { one: MappingDto }) {
  const drop = useSheet();
  const put = async (enabled: boolean): Promise<void> => {
    await call('putMapping', {
      params: { id: one.id },
      body: { name: one.name, enabled, mapping: one.mapping },
    });
    await mappings.reload();
  };
  return (
    <li>
      <p>
        <b>
          <bdi>{one.name}</bdi>
        </b>{' '}
        <code>{typeof one.mapping['topic'] === 'string' ? one.mapping['topic'] : ''}</code>
      </p>
      {mayKeep.value && (
        <p class="row-acts">
          <Checkbox label="in use" value={one.enabled} onValue={(enabled) => void put(enabled)} />
          <button type="button" onClick={drop.show}>
            Delete …<span class="hidden-words"> {one.name}</span>
          </button>
        </p>
      )}
      <Sheet of={drop} title="Delete this mapping?">
        <p>
          New messages on its topic go to the quarantine then. Readings that it made stay. Save it as a file
          first if you may want it back.
        </p>
        <ActionButton
          run={async () => {
            await call('deleteMapping', { params: { id: one.id } });
            await mappings.reload();
          }}
        >
          Delete it
        </ActionButton>
      </Sheet>
    </li>
  );
}
