/** A nuc in a few words: its name, its day, and the one thing to know. */
import type { NucSummary } from '../../server/contract/nucs.ts';
import { localDate } from '../format/calendar.ts';
import { temperature } from '../format/units.ts';
import { relativeDate } from '../format/when.ts';
import { isAboutTheLog } from '../alerts/top-level-alerts.ts';
import { zoneOfSite } from '../parts/site-zone.ts';
import { serverMinute } from '../state/live.ts';
import { display } from '../state/session.ts';
import { overdueSince } from '../today/visits-of-today.ts';
import { urgencyWords } from '../words/labels.ts';
import { dayWords } from './words.ts';

export function NucWords({ one }: { one: NucSummary }) {
  const isDue = one.nextStep?.state === 'due' || one.nextStep?.state === 'overdue';
  // What is to be done today comes before what can wait until then.
  const alert = one.alerts.find(
    ({ ruleId, urgency }) => !isAboutTheLog({ ruleId: ruleId ?? '' }) && !(isDue && urgency === 'next-visit'),
  );
  return (
    <span class="nuc-words">
      <span class="nuc-name">
        <b>
          <bdi>{one.hive.name}</bdi>
        </b>
        {one.day !== null && <span class="soft"> {dayWords(one.day)}</span>}
        {one.latest.brood && <Figure of={one.latest.brood} />}
      </span>
      {alert ? (
        <span class={`nuc-alert ${alert.urgency}`}>
          <span class="urgency">{urgencyWords[alert.urgency]}</span> {alert.headline}
        </span>
      ) : (
        <span class="soft">{nextWords(one)}</span>
      )}
    </span>
  );
}

/** What a failing probe sends is no temperature. */
function Figure({ of: { value, stale, suspect } }: { of: NonNullable<NucSummary['latest']['brood']> }) {
  if (suspect) return <span class="nuc-figure soft">probe fault</span>;
  return (
    <span class={stale ? 'nuc-figure soft' : 'nuc-figure'}>
      {temperature(value, display.value)}
      {stale && ' (old)'}
    </span>
  );
}

function nextWords(one: NucSummary): string {
  const step = one.nextStep;
  if (!step) return one.stageText;
  const zone = zoneOfSite(step.siteId);
  const date = localDate(Date.parse(step.target), zone);
  const today = localDate(serverMinute.value, zone);
  const since = overdueSince([step], today, (iso) => localDate(Date.parse(iso), zone));
  const when =
    since === undefined ? relativeDate(date, today) : `overdue since ${relativeDate(since, today)}`;
  return `${when}: ${step.label ?? step.whatToDo}`;
}
