import type { Attack } from '../attack.ts';
import { backupAttacks } from './backups.ts';
import { decodeAttacks } from './decode.ts';
import { settingsAttacks } from './settings.ts';

export const attacks: readonly Attack[] = [
  ...backupAttacks,
  ...decodeAttacks,
  ...settingsAttacks,
];
