/** In sight on every page while something is unsent. */
import { count } from '../format/units.ts';
import { hashFor } from '../route.ts';
import { unsent } from './outbox.ts';

export function UnsentNote() {
  const waiting = unsent.value;
  if (waiting.length === 0) return null;
  const refused = waiting.filter((one) => one.problems.length > 0).length;
  return (
    <p class="unsent" role="status">
      <a href={hashFor('log')}>
        {count(waiting.length, 'entry', 'entries')} not sent yet
        {refused > 0 ? `, ${count(refused, 'needs', 'need')} you` : ', kept on this device'}
      </a>
    </p>
  );
}
