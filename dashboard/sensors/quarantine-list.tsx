/** Messages that nobody understood; each can be given its meaning here. */
import type { Quarantined } from '../../server/contract/sensors.ts';
import { call } from '../api/client.ts';
import { age } from '../format/when.ts';
import { bytes, count } from '../format/units.ts';
import { ActionButton } from '../parts/action-button.tsx';
import { Term } from '../parts/term.tsx';
import { EmptyState, ResourceView } from '../parts/resource-view.tsx';
import { quarantine } from '../state/farm.ts';
import { serverNow } from '../state/live.ts';
import { mayKeep } from '../state/session.ts';
import { useSheet } from '../parts/sheet.tsx';
import { MappingSheet } from './mapping-sheet.tsx';

export function QuarantineList() {
  const paste = useSheet();
  return (
    <section class="card" aria-label="Not understood">
      <h2>
        Not understood{' '}
        <span class="whole">
          (<Term word="quarantine" />)
        </span>
      </h2>
      <ResourceView of={quarantine} what="the quarantine">
        {(data) =>
          data.items.length === 0 ? (
            <EmptyState title="Every message was understood." />
          ) : (
            <>
              <p>Say what the figures of a message mean, or throw it away.</p>
              <p class="soft">
                Kept: the newest {data.mostATopic} of each topic, {data.most} in all.
              </p>
              <ul class="quarantine">
                {data.items.map((one) => (
                  <QuarantineRow key={one.id} one={one} />
                ))}
              </ul>
            </>
          )
        }
      </ResourceView>
      <button type="button" onClick={paste.show}>
        Paste a message …
      </button>
      <MappingSheet of={paste} message={undefined} />
    </section>
  );
}

export function QuarantineRow({ one }: { one: Quarantined }) {
  const map = useSheet();
  return (
    <li>
      <p>
        <code>{one.topic}</code>{' '}
        <span class="soft">
          {age(serverNow.value - Date.parse(one.receivedAt))} ago, {count(one.times, 'time')},{' '}
          {bytes(one.payloadBytes)}
        </span>
      </p>
      <p class="reason">{one.reason}</p>
      <pre class="payload" tabIndex={0} aria-label="The message">
        {one.payloadText}
      </pre>
      {mayKeep.value && (
        <p class="row-acts">
          <button type="button" class="main" onClick={map.show}>
            Say what it means …
          </button>
          <ActionButton
            run={async () => {
              await call('dropQuarantined', { params: { id: one.id } });
              await quarantine.reload();
            }}
          >
            Throw away
          </ActionButton>
        </p>
      )}
      <MappingSheet of={map} message={{ topic: one.topic, payload: one.payloadText }} />
    </li>
  );
}
