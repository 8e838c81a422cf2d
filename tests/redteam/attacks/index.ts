import type { Attack } from '../attack.ts';

export const attacks: readonly Attack[] = [];
