/** What stands behind an alert's line, and an alert folded to its heading; it can hold others that became part of it. */
import { useState } from 'preact/hooks';
import type { AlertDto } from '../../server/contract/alerts.ts';
import type { BodyOf } from '../../server/contract/index.ts';
import { call } from '../api/client.ts';
import { headAndRest } from '../format/sentences.ts';
import { dayAndTime, deviceZone, zoneNote } from '../format/when.ts';
import { hashFor } from '../route.ts';
import { openAlerts } from '../state/farm.ts';
import { serverMinute, serverNow } from '../state/live.ts';
import { changed } from '../state/resource.ts';
import { mayHelp } from '../state/session.ts';
import { ActionButton } from '../parts/action-button.tsx';
import { Evidence } from './evidence.tsx';
import { LongText } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import { Sheet, useSheet } from '../parts/sheet.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { Explained } from '../parts/term.tsx';

async function answerAlert(id: string, body: BodyOf<'actOnAlert'>): Promise<void> {
  const now = await call('actOnAlert', { params: { id }, body });
  openAlerts.patch((all) => ({ ...all, items: all.items.map((one) => (one.id === id ? now : one)) }));
  await changed({ type: 'alert', id });
}

/**
 * All that stands behind "Why": by when, what was seen beyond what is `shown` above, why it matters, how sure, the
 * evidence, what was done about it.
 */
export function AlertBody({ alert, shown = '' }: { alert: AlertDto; shown?: string }) {
  const seen = alert.seen.slice(shown.length).trim();
  const zone = zoneOfSite(alert.siteId);
  const now = serverMinute.value;
  const note = zoneNote(zone, deviceZone(), now);
  return (
    <>
      {alert.by !== undefined && (
        <p class="alert-by">
          by <b>{dayAndTime(Date.parse(alert.by), zone, now)}</b> {note}
        </p>
      )}
      {seen !== '' && <p>{seen}</p>}
      <p>
        <Explained words={alert.why} />
      </p>
      <p class="soft">
        {alert.howSure}
        {alert.settledBy !== undefined && ` What would settle it: ${alert.settledBy}`}
      </p>
      {alert.evidence && <Evidence evidence={alert.evidence} zone={zone} />}
      <PartsOf alert={alert} />
      <Standing alert={alert} zone={zone} now={now} />
      {mayHelp.value && <Answers alert={alert} />}
    </>
  );
}

export const SeenButton = ({ alert }: { alert: AlertDto }) => (
  <ActionButton run={() => answerAlert(alert.id, { action: 'seen' })}>
    Seen<span class="hidden-words">: {headAndRest(alert.todo).head}</span>
  </ActionButton>
);

export function SeenNote({ alert, zone }: { alert: AlertDto; zone: string }) {
  if (!alert.seenBy) return null;
  const { by, at, note } = alert.seenBy;
  return (
    <p class="standing soft">
      Seen by <bdi>{by}</bdi>, {dayAndTime(Date.parse(at), zone, serverMinute.value)}
      {note === undefined ? '' : `: ${note}`}.
    </p>
  );
}

/** Alerts that were raised before this one and have become part of it: one trouble is one card. */
function PartsOf({ alert }: { alert: AlertDto }) {
  const parts =
    openAlerts.snapshot.value.data?.items.filter(({ explainedBy }) => explainedBy === alert.id) ?? [];
  if (parts.length === 0 && alert.explains.length === 0) return null;
  return (
    <div class="alert-parts">
      <p class="soft">Earlier alerts, included here</p>
      {parts.map((part) => (
        <AlertFold key={part.id} alert={part} />
      ))}
      {alert.explains.map((other) => (
        <p key={other}>{other}</p>
      ))}
    </div>
  );
}

/** An alert that can wait, that was put off, or that is part of another: one line, the rest when it is opened. */
export function AlertFold({ alert }: { alert: AlertDto }) {
  const [open, setOpen] = useState(false);
  const { kind, id, name } = alert.subject;
  return (
    <details
      class={`alert fold ${alert.urgency}`}
      onToggle={(event) => {
        setOpen(event.currentTarget.open);
      }}
    >
      <summary>
        <span>
          <b>
            <bdi>{name}</bdi>
          </b>{' '}
          {headAndRest(alert.todo).head}
        </span>
      </summary>
      {open && (
        <div class="fold-body">
          <p>{alert.todo}</p>
          {kind === 'nuc' && (
            <p>
              <a href={hashFor('nucs', id)}>
                The page of <bdi>{name}</bdi>
              </a>
            </p>
          )}
          <SeenNote alert={alert} zone={zoneOfSite(alert.siteId)} />
          <AlertBody alert={alert} />
          {!alert.seenBy && alert.phase === 'raised' && mayHelp.value && <SeenButton alert={alert} />}
        </div>
      )}
    </details>
  );
}

function Standing({ alert, zone, now }: { alert: AlertDto; zone: string; now: number }) {
  const lines: string[] = [];
  if (alert.nextChangeAt !== null) {
    const when = dayAndTime(Date.parse(alert.nextChangeAt), zone, now);
    if (alert.phase === 'holding') lines.push(`Raised at ${when} if it lasts.`);
    if (alert.phase === 'clearing') lines.push(`Over at ${when} if it stays so.`);
  }
  if (alert.putOffUntil !== null)
    lines.push(`Put off until ${dayAndTime(Date.parse(alert.putOffUntil), zone, now)}.`);
  if (alert.found !== null) lines.push(`Found: ${alert.found}`);
  if (lines.length === 0 && alert.history.length === 0) return null;
  return (
    <>
      {lines.map((line) => (
        <p key={line} class="standing">
          {line}
        </p>
      ))}
      {alert.history.length > 0 && (
        <details class="history">
          <summary>How it went</summary>
          <ol>
            {alert.history.map((one) => (
              <li key={`${one.at}${one.text}`}>
                <span class="soft">{dayAndTime(Date.parse(one.at), zone, now)}</span> {one.text}
              </li>
            ))}
          </ol>
        </details>
      )}
    </>
  );
}

const hourMs = 3_600_000;

function Answers({ alert }: { alert: AlertDto }) {
  const close = useSheet();
  const later = (hours: number) => () =>
    answerAlert(alert.id, {
      action: 'put-off',
      until: new Date(serverNow.peek() + hours * hourMs).toISOString(),
    });
  if (alert.phase === 'closed') {
    return (
      <p class="answers">
        <ActionButton run={() => answerAlert(alert.id, { action: 'reopen' })}>Open again</ActionButton>
      </p>
    );
  }
  return (
    <div class="answers">
      <ActionButton run={later(1)}>Put off 1 h</ActionButton>
      <ActionButton run={later(12)}>Put off 12 h</ActionButton>
      <button type="button" onClick={close.show}>
        Close …
      </button>
      <Sheet of={close} title="What did you find?">
        <CloseForm id={alert.id} done={close.close} />
      </Sheet>
    </div>
  );
}

function CloseForm({ id, done }: { id: string; done: () => void }) {
  const form = useForm({ found: '' }, async ({ found }) => {
    await answerAlert(id, { action: 'close', found: found.trim() });
    done();
  });
  return (
    <Form of={form}>
      <LongText label="In a few words" {...form.field('found')} />
      <p class="soft">It is kept with the alert, and the review shows it.</p>
      <Submit of={form} disabled={form.values.found.trim() === ''}>
        Close the alert
      </Submit>
    </Form>
  );
}
