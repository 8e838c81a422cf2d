/** Does anything need me now; what do I do on my next visit; what changed since I last looked. */
import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { AlertDto } from '../../server/contract/alerts.ts';
import { localDate } from '../format/calendar.ts';
import { deviceZone, longDay, zoneNote } from '../format/when.ts';
import { AlertCard } from '../parts/alert-card.tsx';
import { AlertFold } from '../parts/alert-body.tsx';
import { EmptyState, ResourceView, Loading } from '../parts/resource-view.tsx';
import { VisitsDue } from '../parts/visits-due.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { nearPlan, nucs, openAlerts, sites } from '../state/farm.ts';
import { serverMinute } from '../state/live.ts';
import { useResource } from '../state/resource.ts';
import { topLevelAlerts } from '../parts/top-level-alerts.ts';
import { AttentionRails } from '../parts/attention-rails.tsx';
import { Changes } from '../parts/changes.tsx';
import { Caution } from '../parts/caution.tsx';
import { whenIdle } from '../when-idle.ts';

export function Today() {
  useResource(sites);
  const zone = zoneOfSite(undefined);
  const today = localDate(serverMinute.value, zone);
  const note = zoneNote(zone, deviceZone(), serverMinute.value);
  return (
    <>
      <header class="page-head">
        <h1>Today</h1>
        <p>
          {longDay(serverMinute.value, zone)} {note !== '' && <span class="soft">({note})</span>}
        </p>
      </header>
      <div class="today-columns">
        <ResourceView of={openAlerts} what="the alerts">
          {(data) => <Alerts alerts={data.items} />}
        </ResourceView>
        <ResourceView of={nearPlan} what="the visits">
          {(data) => <VisitsDue plan={data} today={today} />}
        </ResourceView>
      </div>
      <ResourceView of={nucs} what="the nucs">
        {(data) => (
          <Later>
            <AttentionRails items={data.items} />
            <Changes items={data.items} />
          </Later>
        )}
      </ResourceView>
      <Caution about="stings" />
    </>
  );
}

/** What stands below the alerts and the visits is drawn when these can be seen. */
function Later({ children }: { children: ComponentChildren }) {
  const [drawn, setDrawn] = useState(false);
  useEffect(() => {
    whenIdle(() => {
      setDrawn(true);
    });
  }, []);
  return drawn ? children : <Loading what="the nucs" />;
}

const order: readonly AlertDto['urgency'][] = ['now', 'today', 'next-visit'];
const headings = {
  now: 'Needs you now',
  today: 'Needs you today',
  'next-visit': 'For your next visit',
} as const;
/** More than this many at once are folded away: the first ones matter most. */
const atOnce = 6;

/** Those that hold but are not raised yet, and those that are over, are no news for Today. */
const isOpen = (alert: AlertDto): boolean =>
  alert.phase === 'raised' || alert.phase === 'no-data' || alert.phase === 'clearing';

function Alerts({ alerts }: { alerts: readonly AlertDto[] }) {
  const shown = topLevelAlerts(alerts);
  const open = shown.filter(isOpen);
  const putOff = shown.filter((alert) => alert.phase === 'put-off');
  return (
    <section aria-label="Alerts">
      {open.length === 0 && (
        <EmptyState title="Nothing needs you now.">
          <p>
            The sensors show nothing that can’t wait for the next visit. They do not prove that all is well
            inside.
          </p>
        </EmptyState>
      )}
      {order.map((urgency) => (
        <Group key={urgency} urgency={urgency} alerts={open.filter((alert) => alert.urgency === urgency)} />
      ))}
      {putOff.length > 0 && (
        <div class="urgency-group">
          <h2>Put off</h2>
          {putOff.map((alert) => (
            <AlertFold key={alert.id} alert={alert} />
          ))}
        </div>
      )}
    </section>
  );
}

function Group({ urgency, alerts }: { urgency: AlertDto['urgency']; alerts: readonly AlertDto[] }) {
  const [all, setAll] = useState(false);
  if (alerts.length === 0) return null;
  const shown = all ? alerts : alerts.slice(0, atOnce);
  return (
    <div class="urgency-group">
      <h2>{headings[urgency]}</h2>
      {shown.map((alert) =>
        urgency === 'next-visit' ? (
          <AlertFold key={alert.id} alert={alert} />
        ) : (
          <AlertCard key={alert.id} alert={alert} />
        ),
      )}
      {alerts.length > atOnce && (
        <button
          type="button"
          onClick={() => {
            setAll(!all);
          }}
        >
          {all ? 'Show fewer' : `Show all ${String(alerts.length)}`}
        </button>
      )}
    </div>
  );
}
