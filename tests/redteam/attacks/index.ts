import type { Attack } from '../attack.ts';
import { decodeAttacks } from './decode.ts';
import { settingsAttacks } from './settings.ts';

export const attacks: readonly Attack[] = [
  ...decodeAttacks,
  ...settingsAttacks,
];
