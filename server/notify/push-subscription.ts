/** What a browser hands over when it subscribes to push messages (W3C Push API): an address and two keys. */
import { isIP } from 'node:net';

const local = /(^|\.)(localhost|local|internal|home\.arpa)$/;

/** What is wrong with the address of a push service, as the end of a sentence; null where it can be used. */
export function endpointProblem(address: string): string | null {
  const url = URL.canParse(address) ? new URL(address) : null;
  if (url?.protocol !== 'https:' || url.username !== '' || url.password !== '')
    return 'the address of a push service is an https URL';
  // Push services have names on the internet; anything else is in this house.
  const host = url.hostname.replace(/^\[|\]$|\.$/g, '');
  if (isIP(host) !== 0 || local.test(host) || !host.includes('.'))
    return 'the address leads into the local network, where there is no push service';
  return null;
}

export interface SubscriptionKeys {
  readonly p256dh: string;
  readonly auth: string;
}

/** Undefined where these are not an uncompressed point of P-256 and 16 bytes (RFC 8291 §2.1, §3.2). */
export function subscriptionKeys(text: string): SubscriptionKeys | undefined {
  const [, p256dh, auth] = /^([\w-]{87})=?\.([\w-]{22})(?:==)?$/.exec(text) ?? [];
  if (p256dh === undefined || auth === undefined) return undefined;
  return Buffer.from(p256dh, 'base64url')[0] === 4 ? { p256dh, auth } : undefined;
}

export const keysProblem = 'the keys of the subscription are missing: turn it on again on the phone';
