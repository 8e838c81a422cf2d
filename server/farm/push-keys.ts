/** The key pair by which push services know this server (VAPID, RFC 8292): made once, for the first phone that asks. */
import * as z from 'zod';
import type { Store } from '../store/store.ts';
import { internalPrefix } from './settings.ts';

const settingName = `${internalPrefix}push-keys`;
/** Base64url: an uncompressed point of P-256 (65 bytes) and its secret number (32 bytes). */
const pushKeysSchema = z.object({
  publicKey: z.string().regex(/^[\w-]{87}$/),
  privateKey: z.string().regex(/^[\w-]{43}$/),
});
export type PushKeys = z.infer<typeof pushKeysSchema>;

/** Null where none were made yet, or where they can't be read. */
export function pushKeys(settings: Pick<Store['settings'], 'get'>): PushKeys | null {
  const kept = pushKeysSchema.safeParse(settings.get(settingName));
  return kept.success ? kept.data : null;
}

/** The kept pair, or a new one. With a new pair every phone has to be set up again. */
export async function keptPushKeys(settings: Pick<Store['settings'], 'get' | 'put'>): Promise<PushKeys> {
  const { default: webPush } = await import('web-push');
  const kept = pushKeys(settings);
  if (kept !== null) return kept;
  const made = webPush.generateVAPIDKeys();
  settings.put(settingName, made, { by: 'server', secret: true });
  return made;
}
