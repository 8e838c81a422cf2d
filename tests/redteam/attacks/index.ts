import type { Attack } from '../attack.ts';
import { accountAttacks } from './accounts.ts';
import { backupAttacks } from './backups.ts';
import { decodeAttacks } from './decode.ts';
import { embeddedAttacks } from './embedded.ts';
import { outsideAttacks } from './outside.ts';
import { settingsAttacks } from './settings.ts';

export const attacks: readonly Attack[] = [
  ...accountAttacks,
  ...backupAttacks,
  ...decodeAttacks,
  ...embeddedAttacks,
  ...outsideAttacks,
  ...settingsAttacks,
];
