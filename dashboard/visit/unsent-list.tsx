/** Everything that is written and not yet stored, with what stands in its way. */
import { dayAndTime, deviceZone } from '../format/when.ts';
import { ActionButton } from '../parts/action-button.tsx';
import { Sheet, useSheet } from '../parts/sheet.tsx';
import { serverMinute } from '../state/live.ts';
import { giveUp, sendAfresh, sendTrouble, unsent } from './outbox.ts';
import type { Unsent } from './unsent.ts';

export function UnsentList() {
  const waiting = unsent.value;
  if (waiting.length === 0) return null;
  return (
    <section class="card" aria-label="Not sent yet">
      <h2>Not sent yet</h2>
      {sendTrouble.value !== '' && <p class="notice">{sendTrouble.value}</p>}
      <ul class="unsent-list">
        {waiting.map((one) => (
          <Row key={one.entry.id} one={one} />
        ))}
      </ul>
      <ActionButton run={sendAfresh}>Try now</ActionButton>
    </section>
  );
}

function Row({ one }: { one: Unsent }) {
  const sheet = useSheet();
  return (
    <li>
      <p>
        <b>
          <bdi>{one.nucName}</bdi>
        </b>
        : {one.words}{' '}
        <span class="soft">{dayAndTime(one.entry.happenedAtMs, deviceZone(), serverMinute.value)}</span>
      </p>
      {one.problems.map((problem) => (
        <p key={problem} class="fault">
          {problem}
        </p>
      ))}
      <button type="button" class="plain" onClick={sheet.show}>
        Throw away …
      </button>
      <Sheet of={sheet} title="Throw this entry away?">
        <p>
          <bdi>{one.nucName}</bdi>: {one.words}. It is gone then, unless the server got it before the signal
          was lost.
        </p>
        <ActionButton run={() => giveUp(one.entry.id)}>Throw it away</ActionButton>
      </Sheet>
    </li>
  );
}
