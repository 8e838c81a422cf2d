/** Whether what an alert asks for may be done in the dark. Pure. */
import type { AlertDto } from '../../server/contract/alerts.ts';
import { localTime } from '../format/calendar.ts';

/** Setting: between these hours at the site it may be dark, or will be when somebody is there. */
const evening = '19:00';
const morning = '06:00';

/** A nuc that robbers have found is moved at dusk. */
const atDusk: ReadonlySet<string> = new Set(['being-robbed']);

/** What has to be done at once, from the evening to the morning; what is done at dusk, at any hour. */
export function mayBeDoneByNight(
  { urgency, subject, ruleId }: Pick<AlertDto, 'urgency' | 'subject' | 'ruleId'>,
  zone: string,
  nowMs: number,
): boolean {
  const time = localTime(nowMs, zone);
  const dark = time >= evening || time < morning;
  return urgency === 'now' && subject.kind === 'nuc' && (dark || atDusk.has(ruleId));
}
