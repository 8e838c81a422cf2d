/** Days on which the keeper can't work. */
import { useState } from 'preact/hooks';
import { call } from '../api/client.ts';
import { localDate } from '../format/calendar.ts';
import { relativeDate } from '../format/when.ts';
import { Act } from '../parts/act.tsx';
import { Text } from '../parts/fields.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { nearPlan, nucs } from '../state/farm.ts';
import { serverMinute } from '../state/live.ts';
import { mayKeep } from '../state/session.ts';
import { daysFromTo } from './days-from-to.ts';
import { reloadPlan } from './plan-days.ts';

export function Unavailable({ days }: { days: readonly string[] }) {
  const today = localDate(serverMinute.value, zoneOfSite(undefined));
  const [from, setFrom] = useState(today);
  const [to, setTo] = useState('');
  const put = async (next: readonly string[]): Promise<void> => {
    await call('setUnavailable', { body: { days: [...new Set(next)].sort() } });
    await Promise.all([reloadPlan(), nearPlan.reload(), nucs.reload()]);
  };
  const ahead = days.filter((day) => day >= today);
  return (
    <section class="card" aria-label="Days you can’t work">
      <h2>Days you can’t work</h2>
      {ahead.length === 0 && (
        <p class="soft">None noted. Visits avoid the days that stand here, where the bees allow it.</p>
      )}
      <ul class="day-list">
        {ahead.map((day) => (
          <li key={day}>
            {relativeDate(day, today)}{' '}
            {mayKeep.value && (
              <Act run={() => put(days.filter((other) => other !== day))}>
                Free again<span class="hidden-words">: {relativeDate(day, today)}</span>
              </Act>
            )}
          </li>
        ))}
      </ul>
      {mayKeep.value && (
        <div class="inline-fields">
          <Text type="date" label="From" value={from} onValue={setFrom} />
          <Text type="date" label="To, if more than a day" value={to} onValue={setTo} min={from} />
          <Act run={() => put([...days, ...daysFromTo(from, to === '' ? from : to)])} disabled={from === ''}>
            Can’t work then
          </Act>
        </div>
      )}
    </section>
  );
}
