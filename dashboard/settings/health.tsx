/** Whether the server does its work, in a line each. */
import type { Status } from '../../server/contract/server.ts';
import { bytes } from '../format/units.ts';
import { age, dayAndTime, deviceZone } from '../format/when.ts';
import { ResourceView } from '../parts/resource-view.tsx';
import { status } from '../state/farm.ts';
import { serverMinute } from '../state/live.ts';

interface Line {
  readonly name: string;
  readonly words: string;
  readonly bad: boolean;
}

const minuteMs = 60_000;
const dayMs = 1440 * minuteMs;
/** Sensors that send once an hour are slow ones. */
const quietMs = 2 * 60 * minuteMs;
const littleRoom = 500_000_000;

function readings({ newestReadingAt }: Status, now: number): Line {
  const name = 'Readings';
  if (!newestReadingAt) return { name, words: 'none yet', bad: false };
  const sinceMs = now - Date.parse(newestReadingAt);
  return { name, words: `last ${age(sinceMs)} ago`, bad: sinceMs > quietMs };
}

function backup({ lastBackup }: Status, now: number): Line {
  const name = 'Last backup';
  if (lastBackup === null) return { name, words: 'none yet', bad: true };
  const atMs = Date.parse(lastBackup.at);
  return { name, words: dayAndTime(atMs, deviceZone(), now), bad: now - atMs > 2 * dayMs };
}

function heartbeat({ heartbeat: beat }: Status, now: number): Line {
  const name = 'Heartbeat';
  if (!beat) return { name, words: 'not set up', bad: false };
  if (beat.problem !== null) return { name, words: beat.problem, bad: true };
  return {
    name,
    words: beat.sentAt === null ? 'not sent yet' : `sent ${age(now - Date.parse(beat.sentAt))} ago`,
    bad: false,
  };
}

/** A line a site, so that the first try of a new address shows. */
const forecasts = ({ forecasts: all }: Status, now: number): Line[] =>
  all.map(({ site, host, at, problem }) => ({
    name: `Forecast, ${site}`,
    words:
      problem ??
      (at === null ? `${host} has not been asked yet` : `${host}, ${age(now - Date.parse(at))} ago`),
    bad: problem !== null,
  }));

function healthLines(data: Status, now: number): readonly Line[] {
  const { freeBytes } = data.store;
  const lines = [
    readings(data, now),
    {
      name: 'Broker',
      words: data.broker.connected ? 'connected' : 'not connected',
      bad: !data.broker.connected,
    },
    {
      name: 'Disk',
      words: data.store.ok
        ? freeBytes === null
          ? 'room not known'
          : `${bytes(freeBytes)} free`
        : data.store.detail,
      bad: !data.store.ok || (freeBytes !== null && freeBytes < littleRoom),
    },
    backup(data, now),
    heartbeat(data, now),
    ...forecasts(data, now),
  ];
  const memory = { name: 'Memory', words: `${bytes(data.memoryBytes)}, more than usual`, bad: true };
  return data.memoryHigh === true ? [...lines, memory] : lines;
}

export function Health() {
  return (
    <section class="card" aria-label="Health">
      <h2>Health</h2>
      <ResourceView of={status} what="the state of the server">
        {(data) => (
          <dl class="facts">
            {healthLines(data, serverMinute.value).map(({ name, words, bad }) => (
              <div key={name}>
                <dt>{name}</dt>
                <dd>{bad ? <strong>{words}</strong> : words}</dd>
              </div>
            ))}
          </dl>
        )}
      </ResourceView>
    </section>
  );
}
