/** Now, unless it happened earlier. */
import { localDate } from '../format/calendar.ts';
import { dayAndTime } from '../format/when.ts';
import { Text } from '../parts/fields.tsx';
import type { FormState } from '../parts/form.tsx';
import { serverMinute } from '../state/live.ts';

export interface WhenValues {
  readonly earlier: boolean;
  readonly day: string;
  readonly time: string;
}

export function When<T extends WhenValues>({ form, zone }: { form: FormState<T>; zone: string }) {
  const now = serverMinute.value;
  if (form.values.earlier) {
    return (
      <div class="when">
        <Text type="date" label="Day" {...form.field('day')} max={localDate(now, zone)} />
        <Text type="time" label="Time at the site" {...form.field('time')} />
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
