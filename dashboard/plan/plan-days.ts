/** The work of the weeks ahead, as one list that the parts of the Plan page share. */
import { call } from '../api/client.ts';
import { addDays, localDate } from '../format/calendar.ts';
import { deviceZone } from '../format/when.ts';
import { serverNow } from '../state/live.ts';
import { resource } from '../state/resource.ts';

const weeksAhead = 8;

export const planAhead = resource(
  () => {
    const today = localDate(serverNow.peek(), deviceZone());
    return call('getPlan', { query: { from: addDays(today, -14), to: addDays(today, 7 * weeksAhead) } });
  },
  { changedBy: ({ type }) => type === 'nuc' },
);
