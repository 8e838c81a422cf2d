/** An alert in a line: whom it is about, what to do, one number, one button; the reasons folded behind "Why". */
import { useState } from 'preact/hooks';
import type { AlertDto } from '../../server/contract/alerts.ts';
import { firstSentence, headAndRest } from '../format/sentences.ts';
import { deviceZone, zoneNote } from '../format/when.ts';
import { hashFor } from '../route.ts';
import { serverMinute } from '../state/live.ts';
import { mayHelp } from '../state/session.ts';
import { phaseWords, urgencyWords } from '../words/labels.ts';
import { AlertBody, SeenButton, SeenNote } from './alert-body.tsx';
import { Caution } from '../parts/caution.tsx';
import { Evidence } from './evidence.tsx';
import { mayBeDoneByNight } from './by-night.ts';
import { zoneOfSite } from '../parts/site-zone.ts';

interface AlertCardProps {
  readonly alert: AlertDto;
  readonly level?: 2 | 3;
  /** On the nuc's own page its name stands above. */
  readonly own?: boolean;
}

export function AlertCard({ alert, level = 3, own = false }: AlertCardProps) {
  const [open, setOpen] = useState(false);
  const zone = zoneOfSite(alert.siteId);
  const Heading = `h${level}` as const;
  const { head, rest } = headAndRest(alert.todo);
  const seen = firstSentence(alert.seen);
  const pressing = alert.phase === 'raised' && !alert.seenBy;
  const note = zoneNote(zone, deviceZone(), serverMinute.value);
  return (
    <article class={`alert ${alert.urgency} ${alert.phase}`} aria-labelledby={`alert-${alert.id}`}>
      <div class="line-row">
        <div>
          <p class="line-who">
            {(!own || alert.subject.kind !== 'nuc') && <SubjectLink alert={alert} />}{' '}
            <span class="urgency">
              {alert.phase === 'raised' ? urgencyWords[alert.urgency] : phaseWords[alert.phase]}
            </span>
          </p>
          <Heading id={`alert-${alert.id}`} class="line-what">
            {head}
          </Heading>
          <p class="soft">
            {seen} {note !== '' && `(${note})`}
          </p>
        </div>
        {pressing && mayHelp.value && <SeenButton alert={alert} />}
      </div>
      {pressing && !open && alert.urgency === 'now' && alert.evidence && (
        <Evidence evidence={alert.evidence} zone={zone} bare />
      )}
      {pressing && rest !== '' && <p>{rest}</p>}
      {pressing && mayBeDoneByNight(alert, zone, serverMinute.value) && <Caution about="night" />}
      <SeenNote alert={alert} zone={zone} />
      <details
        class="why"
        onToggle={(event) => {
          setOpen(event.currentTarget.open);
        }}
      >
        <summary>
          Why<span class="hidden-words">: {head}</span>
        </summary>
        {open && (
          <div class="fold-body">
            {!pressing && rest !== '' && <p>{rest}</p>}
            <AlertBody alert={alert} shown={seen} />
          </div>
        )}
      </details>
    </article>
  );
}

function SubjectLink({ alert }: { alert: AlertDto }) {
  const { kind, id, name } = alert.subject;
  const where = alert.siteName !== undefined && kind !== 'site' ? alert.siteName : '';
  return (
    <span class="alert-subject">
      {kind === 'nuc' ? (
        <a href={hashFor('nucs', id)}>
          <bdi>{name}</bdi>
        </a>
      ) : (
        <bdi>{name}</bdi>
      )}{' '}
      <bdi class="soft">{where}</bdi>
    </span>
  );
}
