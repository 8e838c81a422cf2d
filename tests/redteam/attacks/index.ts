import type { Attack } from '../attack.ts';
import { decodeAttacks } from './decode.ts';

export const attacks: readonly Attack[] = [...decodeAttacks];
