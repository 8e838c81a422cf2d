/** State of the server, backup and restore. */
import * as server from '../server.ts';
import type { Operation } from './operation.ts';

export const serverOperations = {
  status: {
    method: 'get',
    path: '/status',
    role: 'viewer',
    summary: 'Broker, store, sizes, last backup',
    response: server.statusSchema,
  },
  backupNow: {
    method: 'post',
    path: '/backup',
    role: 'keeper',
    summary: 'Back up now and verify it',
    response: server.backupMadeSchema,
  },
  listRestorable: {
    method: 'get',
    path: '/restore',
    role: 'keeper',
    summary: 'Backups that an empty server can bring back',
    response: server.restorableSchema,
  },
  lookAtBackup: {
    method: 'post',
    path: '/restore/look',
    role: 'keeper',
    summary: 'Check a backup, and say whom it lets in and what it is set to call',
    body: server.restoreInputSchema,
    response: server.backupSummarySchema,
  },
  restoreBackup: {
    method: 'post',
    path: '/restore',
    role: 'keeper',
    summary: 'Bring a backup back into an empty server, which then starts again',
    body: server.restoreInputSchema,
  },
} as const satisfies Record<string, Operation>;
