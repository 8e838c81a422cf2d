/** What a backup would bring with it, to be read before it is brought back. */
import type { ComponentChildren } from 'preact';
import type { ResponseOf } from '../../server/contract/index.ts';

type Summary = ResponseOf<'lookAtBackup'>;

export function BackupContents({ of, children }: { of: Summary; children: ComponentChildren }) {
  const mayEnter = of.people.some(({ role, canSignIn }) => role === 'keeper' && canSignIn);
  return (
    <section class="notice" aria-label={`What is in ${of.file}`}>
      <p>
        {of.verified === 'digest'
          ? 'Checked: nothing in it has changed since it was made.'
          : 'Checked row by row. It carries no digest, as backups of earlier versions, so that a changed value may go unseen.'}{' '}
        Bring it back only if you know everything here.
      </p>
      <dl class="facts">
        {facts(of).map(([name, words]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{words}</dd>
          </div>
        ))}
      </dl>
      {of.people.length > 0 && !mayEnter && (
        <p>
          <b>No keeper can sign in with it:</b> a new password then has to be set at the server, with{' '}
          <code>welcomb user</code>.
        </p>
      )}
      <p class="row-acts">{children}</p>
    </section>
  );
}

const listed = (items: readonly string[]): string => (items.length === 0 ? 'none' : items.join(', '));

function facts(of: Summary): (readonly [string, string])[] {
  const { people, notifications } = of;
  return [
    ['Sites', `${listed(of.sites)}; ${String(of.nucs)} nucs`],
    [
      'Who can sign in',
      people.length === 0
        ? 'nobody yet: the first at the server sets a password'
        : listed(
            people.map(
              ({ name, role, canSignIn }) =>
                `${name} (${role}${canSignIn ? '' : ', but the stored password can’t be read'})`,
            ),
          ),
    ],
    ['Devices that may publish', listed(of.devices)],
    [
      'Notifications go to',
      listed(
        notifications.map(
          ({ name, kind, address, enabled }) =>
            `${name} (${kind}${address === '' ? '' : `, ${address}`}${enabled ? '' : ', off'})`,
        ),
      ),
    ],
    ...(
      [
        ['Heartbeat goes to', of.heartbeat],
        ['Forecast comes from', of.forecast],
        ['Backups go to', of.backupFolder],
      ] as const
    ).filter(([, words]) => words !== ''),
    ['What ends', `${String(of.sessions)} sessions, ${String(of.tokens)} API keys, all calendar links`],
  ];
}
