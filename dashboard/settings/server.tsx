/** How the server does, and its backups. */
import type { Status } from '../../server/contract/server.ts';
import { call } from '../api/client.ts';
import { bytes, wholeNumber } from '../format/units.ts';
import { age, dayAndTime, deviceZone } from '../format/when.ts';
import { ActionButton } from '../parts/action-button.tsx';
import { ResourceView } from '../parts/resource-view.tsx';
import { status } from '../state/farm.ts';
import { serverMinute } from '../state/live.ts';
import { mayKeep } from '../state/session.ts';

export function Server() {
  return (
    <section class="card" aria-label="Server and backup">
      <h2>Server and backup</h2>
      <ResourceView of={status} what="the state of the server">
        {(data) => (
          <>
            {data.unreadable.length > 0 && <Unreadable rows={data.unreadable} />}
            {data.untold.length > 0 && <Untold rows={data.untold} />}
            <details>
              <summary>Details</summary>
              <Facts data={data} />
            </details>
          </>
        )}
      </ResourceView>
      {mayKeep.value && (
        <p class="row-acts">
          <ActionButton
            main
            done="Backed up, opened and checked."
            run={async () => {
              await call('backupNow', {}, 300_000);
              await status.reload();
            }}
          >
            Back up now
          </ActionButton>
          <a class="button" href="api/v1/export/everything.jsonl" download>
            Save everything
          </a>
          <a class="button" href="api/v1/export/log.csv" download>
            Save the field log as CSV
          </a>
        </p>
      )}
    </section>
  );
}

function Unreadable({ rows }: { rows: Status['unreadable'] }) {
  return (
    <div class="notice">
      <p>
        These stored records are damaged. They stay where they are and are not used; everything else goes on.
        Back up what there is now. Then stop the server and bring back an earlier backup with{' '}
        <code>welcomb restore</code>, or enter the lost facts again.
      </p>
      <ul>
        {rows.map(({ what, id }) => (
          <li key={`${what} ${id}`}>
            {what}: {id}
          </li>
        ))}
      </ul>
    </div>
  );
}

function Facts({ data }: { data: Status }) {
  const now = serverMinute.value;
  const { store, broker, ingest, lastBackup } = data;
  const facts: readonly (readonly [string, string])[] = [
    ['State', data.ready ? 'ready' : (data.why ?? 'not ready')],
    ['Running for', age(now - Date.parse(data.startedAt))],
    [
      'Broker',
      `${broker.kind}, ${broker.address}, ${broker.connected ? 'connected' : 'not connected'}. ${broker.detail}`,
    ],
    ['Store', store.detail],
    [
      'Size',
      `${bytes(store.bytes)}, ${wholeNumber(store.readings)} readings${store.bytesPerYear === null ? '' : `, about ${bytes(store.bytesPerYear)} a year`}`,
    ],
    ['Free on the disk', store.freeBytes === null ? 'not known' : bytes(store.freeBytes)],
    ['Written today', bytes(store.writtenTodayBytes)],
    [
      'Messages',
      `${wholeNumber(ingest.received)} received, ${wholeNumber(ingest.stored)} readings stored, ${wholeNumber(ingest.duplicates)} repeats, ${wholeNumber(ingest.conflicts)} conflicts, ${wholeNumber(ingest.quarantined)} not understood`,
    ],
    ['Memory', bytes(data.memoryBytes)],
    [
      'Last backup',
      lastBackup === null
        ? 'none yet'
        : `${dayAndTime(Date.parse(lastBackup.at), deviceZone(), now)}, ${lastBackup.file}, ${lastBackup.verified ? 'opened and checked' : 'not checked'}`,
    ],
    [
      'Rules looked',
      data.lastEvaluation === null
        ? 'not yet'
        : `${age(now - Date.parse(data.lastEvaluation.at))} ago, in ${String(Math.round(data.lastEvaluation.ms))} ms`,
    ],
    ['Version', data.version],
  ];
  return <FactList facts={facts} />;
}

/** Messages that did not go out: open to see, for an alert may be among them. */
function Untold({ rows }: { rows: Status['untold'] }) {
  const now = serverMinute.value;
  const facts = rows.map(({ to, since, tries, problem, gaveUp, what }): readonly [string, string] => [
    `${gaveUp ? 'Given up' : 'Not sent yet'}: ${to}`,
    `${what ? `${what}. ` : ''}Since ${dayAndTime(Date.parse(since), deviceZone(), now)}, tried ${String(tries)} times. ${problem}`,
  ]);
  return (
    <div class="notice">
      <FactList facts={facts} />
    </div>
  );
}

function FactList({ facts }: { facts: readonly (readonly [string, string])[] }) {
  return (
    <dl class="facts">
      {facts.map(([name, words]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{words}</dd>
        </div>
      ))}
    </dl>
  );
}
