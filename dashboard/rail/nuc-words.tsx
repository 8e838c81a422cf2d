/** A nuc in a few words: its name, its day, and the one thing to know. */
import type { NucSummary } from '../../server/contract/nucs.ts';
import { localDate } from '../format/calendar.ts';
import { relativeDate } from '../format/when.ts';
import { isAboutTheLog } from '../parts/top-level-alerts.ts';
import { zoneOfSite } from '../parts/site-zone.ts';
import { serverMinute } from '../state/live.ts';
import { urgencyWords } from '../words/labels.ts';

export function NucWords({ one }: { one: NucSummary }) {
  const alert = one.alerts.find(({ ruleId }) => !isAboutTheLog({ ruleId: ruleId ?? '' }));
  return (
    <span class="nuc-words">
      <span class="nuc-name">
        <b>
          <bdi>{one.hive.name}</bdi>
        </b>
        {one.day !== null && <span class="soft"> day {Math.floor(one.day)}</span>}
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

function nextWords(one: NucSummary): string {
  const step = one.nextStep;
  if (!step) return one.stageText;
  const zone = zoneOfSite(step.siteId);
  const when = relativeDate(localDate(Date.parse(step.target), zone), localDate(serverMinute.value, zone));
  return `${step.state === 'overdue' ? 'overdue since' : ''} ${when}: ${step.label ?? step.whatToDo}`.trim();
}
