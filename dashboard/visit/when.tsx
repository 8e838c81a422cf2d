/** Now, unless it happened earlier. */
import { instantAt, localDate, localTime } from '../format/calendar.ts';
import { dayAndTime } from '../format/when.ts';
import { Text } from '../parts/fields.tsx';
import type { FormState } from '../parts/form.tsx';
import { serverMinute, serverNow } from '../state/live.ts';

export interface WhenValues {
  readonly earlier: boolean;
  /** At the site; empty as long as nobody changed it: the site's zone may come after the form. */
  readonly day: string;
  readonly time: string;
}

export const justNow: WhenValues = { earlier: false, day: '', time: '' };

/** When it happened, ms. `stoodMs`: as it is written down already. */
export function happenedAt({ earlier, day, time }: WhenValues, zone: string, stoodMs?: number): number {
  const atMs = stoodMs ?? Math.round(serverNow.peek());
  if (!earlier || (day === '' && time === '')) return atMs;
  return instantAt(day || localDate(atMs, zone), time || localTime(atMs, zone), zone);
}

interface WhenProps<T> {
  readonly form: FormState<T>;
  readonly zone: string;
  readonly stoodMs?: number | undefined;
}

export function When<T extends WhenValues>({ form, zone, stoodMs }: WhenProps<T>) {
  const now = serverMinute.value;
  const atMs = stoodMs ?? now;
  if (form.values.earlier) {
    return (
      <div class="when">
        <Text
          type="date"
          label="Day"
          value={form.values.day || localDate(atMs, zone)}
          onValue={form.field('day').onValue}
          max={localDate(now, zone)}
        />
        <Text
          type="time"
          label="Time at the site"
          value={form.values.time || localTime(atMs, zone)}
          onValue={form.field('time').onValue}
        />
      </div>
    );
  }
  return (
    <p class="row">
      Just now, {dayAndTime(now, zone, now)}{' '}
      <button
        type="button"
        onClick={() => {
          form.field('earlier').onValue(true);
        }}
      >
        Earlier …
      </button>
    </p>
  );
}
