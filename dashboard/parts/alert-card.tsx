/** An alert in its order: what to do and by when; what was seen; why it matters now; how sure; the evidence. */
import type { AlertDto } from '../../server/contract/alerts.ts';
import { age, dayAndTime, deviceZone, zoneNote } from '../format/when.ts';
import { hashFor } from '../route.ts';
import { serverMinute } from '../state/live.ts';
import { phaseWords, urgencyWords } from '../words/labels.ts';
import { AlertBody } from './alert-body.tsx';
import { zoneOfSite } from './site-zone.ts';

export function AlertCard({ alert, level = 3 }: { alert: AlertDto; level?: 2 | 3 | 4 }) {
  const zone = zoneOfSite(alert.siteId);
  const now = serverMinute.value;
  const Heading = `h${level}` as const;
  const since = Date.parse(alert.raisedAt ?? alert.since);
  const note = zoneNote(zone, deviceZone(), now);
  return (
    <article class={`alert ${alert.urgency} ${alert.phase}`} aria-labelledby={`alert-${alert.id}`}>
      <p class="alert-head">
        <span class="urgency">{urgencyWords[alert.urgency]}</span>
        <SubjectLink alert={alert} />
        <span class="soft">
          since {dayAndTime(since, zone, now)} {note} ({age(now - since)})
        </span>
        {alert.phase !== 'raised' && <span class="phase">{phaseWords[alert.phase]}</span>}
      </p>
      <Heading id={`alert-${alert.id}`}>{alert.todo}</Heading>
      <AlertBody alert={alert} />
    </article>
  );
}

function SubjectLink({ alert }: { alert: AlertDto }) {
  const { kind, id, name } = alert.subject;
  const where = alert.siteName !== undefined && kind !== 'site' ? `, ${alert.siteName}` : '';
  return (
    <span class="alert-subject">
      {kind === 'nuc' ? (
        <a href={hashFor('nucs', id)}>
          <bdi>{name}</bdi>
        </a>
      ) : (
        <bdi>{name}</bdi>
      )}
      <bdi>{where}</bdi>
    </span>
  );
}
