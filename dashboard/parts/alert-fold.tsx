/** An alert that can wait, or that was put off: one line, the rest when it is opened. */
import { useState } from 'preact/hooks';
import type { AlertDto } from '../../server/http/contract/alerts.ts';
import { hashFor } from '../route.ts';
import { urgencyWords } from '../words/labels.ts';
import { AlertBody } from './alert-card.tsx';

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
          <span class="urgency">{urgencyWords[alert.urgency]}</span>{' '}
          <b>
            <bdi>{name}</bdi>
          </b>{' '}
          {alert.todo}
        </span>
      </summary>
      {open && (
        <div class="fold-body">
          {kind === 'nuc' && (
            <p>
              <a href={hashFor('nucs', id)}>
                The page of <bdi>{name}</bdi>
              </a>
            </p>
          )}
          <AlertBody alert={alert} />
        </div>
      )}
    </details>
  );
}
