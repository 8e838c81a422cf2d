/**
 * Who is notified, through which channel, of what, and when not. Read from the channels that the keeper sets
 * up, with the address of each channel checked before anything is sent to it.
 */
import * as z from 'zod';
import type { Display } from '../words/phrase.ts';
import { urgencies, type Urgency } from '../rules/engine/types.ts';
import { endpointProblem, keysProblem, subscriptionKeys } from './push-subscription.ts';
import { isZone, type QuietHours } from './quiet-hours.ts';

/** Anything that keeps a secret and prints as `<secret>`. */
export interface SecretText {
  reveal(): string;
}

export interface MailChannel {
  readonly kind: 'mail';
  readonly host: string;
  readonly port: number;
  /** TLS from the first byte; otherwise STARTTLS, and never a password without it beyond this machine. */
  readonly secure: boolean;
  readonly user: string | null;
  readonly password: SecretText | null;
  readonly from: string;
  readonly to: readonly string[];
}
export interface WebhookChannel {
  readonly kind: 'webhook';
  readonly url: string;
  /** Sent as a bearer token. */
  readonly token: SecretText | null;
}
export interface MqttChannel {
  readonly kind: 'mqtt';
  /** Topic under which state and events are published. */
  readonly base: string;
}
export interface BrowserChannel {
  readonly kind: 'browser';
}
export interface PushChannel {
  readonly kind: 'push';
  /** Of the browser maker's service. Whoever knows it may send to the phone, so only its host is shown. */
  readonly endpoint: string;
  /** `p256dh` and `auth` in base64url, joined by a full stop. */
  readonly keys: SecretText;
}
export type Channel = MailChannel | WebhookChannel | MqttChannel | BrowserChannel | PushChannel;

export interface Recipient {
  readonly id: string;
  readonly name: string;
  readonly enabled: boolean;
  /** Sent at once; the others wait for the digest. */
  readonly urgencies: readonly Urgency[];
  readonly quietHours: QuietHours | null;
  /** HH:MM in the zone of the quiet hours, or of the display. */
  readonly digestAt: string | null;
  readonly display: Display;
  /** Where the page is opened, without a slash at the end; null: messages carry no link. */
  readonly pageAddress: string | null;
  readonly channel: Channel;
}

export const recipientSettingsSchema = z.object({
  id: z.string().min(1),
  name: z.string().min(1),
  kind: z.enum(['mail', 'webhook', 'mqtt', 'browser', 'push']),
  enabled: z.boolean(),
  urgencies: z.array(z.enum(urgencies)),
  address: z.string(),
  quietHours: z.object({ from: z.string(), to: z.string(), timeZone: z.string() }).optional(),
  digestAt: z.string().optional(),
});
export type RecipientSettings = z.infer<typeof recipientSettingsSchema>;

export type ReadRecipient =
  | { readonly ok: true; readonly recipient: Recipient }
  | { readonly ok: false; readonly problem: string };

/** Checks one channel; the problem is a sentence that names the channel and what its address should be. */
export function readRecipient(
  settings: RecipientSettings,
  secret: SecretText | null,
  display: Display,
  pageAddress: string | null = null,
): ReadRecipient {
  const { id, name, kind, enabled, urgencies, address, quietHours, digestAt } = settings;
  const channel = readChannel(kind, address.trim(), secret);
  if (typeof channel === 'string') return { ok: false, problem: `“${name}” can't be used: ${channel}.` };
  if (quietHours && !isZone(quietHours.timeZone)) {
    const problem = `“${name}” can't be used: the zone of its quiet hours, “${quietHours.timeZone}”, is not known.`;
    return { ok: false, problem };
  }
  const recipient: Recipient = {
    id,
    name,
    enabled,
    urgencies,
    quietHours: quietHours ?? null,
    digestAt: digestAt ?? null,
    display,
    pageAddress,
    channel,
  };
  return { ok: true, recipient };
}

/** What of a channel can't be used, as the end of a sentence; null where nothing is wrong. */
export function channelFault(
  kind: RecipientSettings['kind'],
  address: string,
  secret: string | undefined,
): { readonly pointer: '#/address' | '#/secret'; readonly detail: string } | null {
  const text = secret === undefined ? null : { reveal: () => secret };
  const detail = readChannel(kind, address.trim(), text);
  if (typeof detail !== 'string') return null;
  return { pointer: [keysProblem, tokenProblem].includes(detail) ? '#/secret' : '#/address', detail };
}

/** Whether `fetch` takes it: an http or https address without a name or password in it. */
export function isCallable(address: string): boolean {
  if (!URL.canParse(address)) return false;
  const { protocol, username, password } = new URL(address);
  return ['http:', 'https:'].includes(protocol) && username === '' && password === '';
}

/** What an HTTP header can carry (RFC 9110 §5.5); a token copied from a page may have invisible letters in it. */
// oxlint-disable-next-line no-control-regex -- control characters are exactly what is kept out
const fitsHeader = /^[^\x00-\x1f\x7f\u0100-\uffff]*$/;
const tokenProblem = 'the token has letters in it that can’t be sent: copy it once more';

const mailForm =
  'the address has the form smtp://USER@HOST:PORT/TO@EXAMPLE.ORG?from=FROM@EXAMPLE.ORG (smtps: for TLS)';

function readChannel(
  kind: RecipientSettings['kind'],
  address: string,
  secret: SecretText | null,
): Channel | string {
  switch (kind) {
    case 'browser':
      return { kind };
    case 'mqtt':
      if (/[+#\0]/.test(address)) return 'a topic to publish on has no + or # in it';
      return /^(welcomb|homie)(\/|$)/.test(address)
        ? 'sensors publish there; choose another topic, such as welcomb-status'
        : { kind, base: address === '' ? 'welcomb-status' : address.replace(/\/+$/, '') };
    case 'webhook': {
      const url = URL.canParse(address) ? new URL(address) : null;
      if (!url || !['http:', 'https:'].includes(url.protocol))
        return 'the address has to be an http or https URL';
      if (!isCallable(address)) return 'the address has to be one without a name or password in it';
      if (secret !== null && !fitsHeader.test(secret.reveal())) return tokenProblem;
      return { kind, url: url.href, token: secret };
    }
    case 'push': {
      const problem = endpointProblem(address);
      if (problem !== null) return problem;
      return secret !== null && subscriptionKeys(secret.reveal()) !== undefined
        ? { kind, endpoint: address, keys: secret }
        : keysProblem;
    }
    case 'mail':
      return readMail(address, secret);
  }
}

const mailbox = /^[^\s@<>,;"]+@[^\s@<>,;"]+$/;

function readMail(address: string, password: SecretText | null): MailChannel | string {
  const url = URL.canParse(address) ? new URL(address) : null;
  if (!url || !['smtp:', 'smtps:'].includes(url.protocol) || url.hostname === '') return mailForm;
  if (url.password !== '') return 'the password belongs in its own field, where it is kept secret';
  const secure = url.protocol === 'smtps:';
  const user = url.username === '' ? null : decoded(url.username);
  const to = decoded(url.pathname.slice(1)).split(/ *, */).filter(Boolean);
  const from = url.searchParams.get('from') ?? (user !== null && mailbox.test(user) ? user : to[0]);
  if (from === undefined || to.length === 0 || ![from, ...to].every((one) => mailbox.test(one)))
    return mailForm;
  const port = url.port === '' ? (secure ? 465 : 587) : Number(url.port);
  return { kind: 'mail', host: url.hostname.replace(/^\[|\]$/g, ''), port, secure, user, password, from, to };
}

/** As it stands where it is not percent-encoded, such as a name with a bare %. */
function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}
