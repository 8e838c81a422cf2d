/** Days on which the keeper can't work. */
import { call } from '../api/client.ts';
import { addDays, localDate } from '../format/calendar.ts';
import { relativeDate } from '../format/when.ts';
import { ActionButton } from '../parts/action-button.tsx';
import { Text } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { nucsChanged } from '../state/farm.ts';
import { serverMinute } from '../state/live.ts';
import { mayKeep } from '../state/session.ts';
import { daysFromTo, mostDaysAtATime } from './days-from-to.ts';

export function Unavailable({ days }: { days: readonly string[] }) {
  const today = localDate(serverMinute.value, zoneOfSite(undefined));
  const put = async (next: readonly string[]): Promise<void> => {
    await call('setUnavailable', { body: { days: [...new Set(next)].sort() } });
    await nucsChanged();
  };
  const form = useForm({ from: today, to: '' }, ({ from, to }) =>
    put([...days, ...daysFromTo(from, to === '' ? from : to)]),
  );
  const { from, to } = form.values;
  const fault = from === '' || to === '' ? undefined : faultOf(from, to);
  const ahead = days.filter((day) => day >= today);
  return (
    <>
      {ahead.length === 0 && (
        <p class="soft">None noted. Visits avoid the days that stand here, where the bees allow it.</p>
      )}
      <ul class="day-list">
        {ahead.map((day) => (
          <li key={day}>
            {relativeDate(day, today)}{' '}
            {mayKeep.value && (
              <ActionButton run={() => put(days.filter((other) => other !== day))}>
                Free again<span class="hidden-words">: {relativeDate(day, today)}</span>
              </ActionButton>
            )}
          </li>
        ))}
      </ul>
      {mayKeep.value && (
        <Form of={form} class="inline-fields">
          <Text type="date" label="From" {...form.field('from')} />
          <Text type="date" label="To, if more than a day" {...form.field('to')} min={from} fault={fault} />
          <Submit of={form} main={false} disabled={from === '' || fault !== undefined}>
            Can’t work then
          </Submit>
        </Form>
      )}
    </>
  );
}

function faultOf(from: string, to: string): string | undefined {
  if (to < from) return 'It lies before the first day.';
  return to < addDays(from, mostDaysAtATime)
    ? undefined
    : `At most ${String(mostDaysAtATime)} days at a time.`;
}
