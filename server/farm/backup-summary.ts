/** What a backup would bring with it, as the page and the command tell it before it is restored. */
import { statSync } from 'node:fs';
import { basename } from 'node:path';
import { withContents } from '../store/backup/backup-contents.ts';
import type { Verified } from '../store/backup/check-database.ts';
import { isPasswordHash } from './password.ts';
import type { BackupSummary } from '../contract/server.ts';
import { farmSettings, hostOnly, notificationChannels, shownAddress } from './settings.ts';

/** Of a file that passed its check. */
export function summaryOf(file: string, verified: Verified): BackupSummary {
  return withContents(file, ({ settings, people, ...contents }) => {
    const { heartbeatUrl, forecastUrl, backupFolder } = farmSettings(settings);
    return {
      file: basename(file),
      bytes: statSync(file).size,
      verified,
      ...contents,
      people: people.map(({ name, role, passwordHash }) => ({
        name,
        role,
        canSignIn: isPasswordHash(passwordHash),
      })),
      notifications: notificationChannels(settings).map(({ name, kind, enabled, address }) => ({
        name,
        kind,
        enabled,
        address: shownAddress({ kind, address }),
      })),
      heartbeat: hostOnly(heartbeatUrl),
      forecast: hostOnly(forecastUrl),
      backupFolder,
    };
  });
}

/** The same as lines of text. */
export function summaryLines(summary: BackupSummary): string[] {
  const { people, notifications, devices, sites, nucs, heartbeat, forecast, backupFolder } = summary;
  const listed = (items: readonly string[]): string => (items.length === 0 ? 'none' : items.join(', '));
  return [
    summary.verified === 'digest'
      ? 'Checked: its digest (SHA-256) is that of what it holds.'
      : 'Checked: it carries no digest, as backups of earlier versions; each row was read instead.',
    `Sites: ${listed(sites)}; ${String(nucs)} nucs.`,
    people.length === 0
      ? 'Nobody has a password in it: the first to open the page at this machine sets one.'
      : `Who can sign in: ${listed(people.map(({ name, role, canSignIn }) => `${name} (${role}${canSignIn ? '' : ', but the stored password is unreadable'})`))}.`,
    `Devices that may publish: ${listed(devices)}.`,
    `Notifications go to: ${listed(
      notifications.map(
        ({ name, kind, address, enabled }) =>
          `${name} (${kind}${address === '' ? '' : ` ${address}`}${enabled ? '' : ', off'})`,
      ),
    )}.`,
    ...(heartbeat === '' ? [] : [`The heartbeat goes to ${heartbeat}.`]),
    ...(forecast === '' ? [] : [`The forecast comes from ${forecast}.`]),
    ...(backupFolder === '' ? [] : [`Backups go to ${backupFolder}.`]),
    'Sessions, API keys and calendar links of the backup end: make them anew.',
  ];
}
