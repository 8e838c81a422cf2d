/** Who is here, what the farm's units are, and what is still to be set up. */
import { computed, signal } from '@preact/signals';
import type { Me } from '../../server/contract/account.ts';
import { call, rememberCsrf, whenSignedOut } from '../api/client.ts';
import type { Trouble } from '../api/trouble.ts';
import { dateStyle } from '../format/date-style.ts';
import type { Display } from '../format/units.ts';
import { serverAheadMs } from './live.ts';
import { keep, recall } from './preferences.ts';

export const me = signal<Me | undefined>(undefined);
export const meTrouble = signal<Trouble | undefined>(undefined);
const remembered = 'welcomb.me';

export const display = computed<Display>(() => me.value?.farm.display ?? { temperature: 'C', weight: 'kg' });
export const mayKeep = computed(() => me.value?.role === 'keeper');
export const mayHelp = computed(() => me.value?.role === 'keeper' || me.value?.role === 'helper');

export function takeMe(now: Me): void {
  rememberCsrf(now.csrf);
  serverAheadMs.value = Date.parse(now.serverTime) - Date.now();
  me.value = now;
  dateStyle.value = now.farm.display;
  meTrouble.value = undefined;
  // Kept for a page opened without signal: names and units only, no secret.
  keep(remembered, JSON.stringify(now.signedIn ? { ...now, csrf: null } : null));
}

function lastMe(): Me | undefined {
  try {
    return (JSON.parse(recall(remembered) ?? 'null') as Me | undefined) ?? undefined;
  } catch {
    return undefined;
  }
}

export async function loadMe(): Promise<void> {
  try {
    takeMe(await call('me', {}));
  } catch (error) {
    meTrouble.value = error as Trouble;
    me.value ??= lastMe();
    if (me.value) dateStyle.value = me.value.farm.display;
  }
}

export function expectSignOut(): void {
  whenSignedOut(() => {
    if (me.value) me.value = { ...me.value, signedIn: false };
  });
}
