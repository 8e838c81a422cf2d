/** Mail over SMTP. A permanent refusal (5xx to this message) is final, everything else is tried again. */
import type { MailChannel } from './recipient.ts';
import type { SenderOf, Sent } from './sender.ts';
import { linkOf, wordsOf } from './words.ts';

export interface MailOptions {
  /** How long a server may be silent, ms. */
  readonly timeoutMs: number;
}

const loopback = (host: string): boolean => ['localhost', '127.0.0.1', '::1'].includes(host);

export function mailSender({ timeoutMs }: MailOptions = { timeoutMs: 20_000 }): SenderOf<MailChannel> {
  return async (delivery, recipient, channel) => {
    const { heading, text } = wordsOf(delivery, recipient.display);
    const links = delivery.items.flatMap((item) => linkOf(item, recipient.pageAddress) ?? []);
    // A mail program of some megabytes, for those who have set up mail.
    const { createTransport } = await import('nodemailer');
    const transport = createTransport({
      host: channel.host,
      port: channel.port,
      secure: channel.secure,
      // A password never travels in the clear beyond this machine.
      requireTLS: channel.user !== null && !channel.secure && !loopback(channel.host),
      ...(channel.user !== null && { auth: { user: channel.user, pass: channel.password?.reveal() ?? '' } }),
      connectionTimeout: timeoutMs,
      greetingTimeout: timeoutMs,
      socketTimeout: timeoutMs,
      disableFileAccess: true,
      disableUrlAccess: true,
    });
    try {
      const { rejected } = await transport.sendMail({
        from: { name: 'Welcomb', address: channel.from },
        to: [...channel.to],
        subject: heading,
        text: [text, ...new Set(links)].join('\n\n'),
        // The same message keeps its id through every attempt: a mail program shows it once.
        messageId: `<${encodeURIComponent(delivery.key)}@welcomb.invalid>`,
        headers: { 'Auto-Submitted': 'auto-generated' },
      });
      return {
        ok: true,
        detail: mailedTo(channel.to, rejected),
        partly: rejected.length > 0,
      };
    } catch (error) {
      return failure(error, channel);
    } finally {
      transport.close();
    }
  };
}

/** A server that takes it for one of them has taken it. */
function mailedTo(all: readonly string[], refused: readonly string[]): string {
  const taken = `mailed to ${all.filter((one) => !refused.includes(one)).join(', ')}`;
  return refused.length === 0 ? taken : `${taken}, but refused for ${refused.join(', ')}`;
}

function failure(error: unknown, { host, port }: MailChannel): Sent {
  const code = replyCode(error);
  const said = error instanceof Error ? error.message : String(error);
  const detail = `The mail server ${host}:${String(port)} did not take it: ${said}`;
  return { ok: false, detail, final: code !== null && code >= 550 && code <= 554 };
}

function replyCode(error: unknown): number | null {
  if (typeof error !== 'object' || error === null || !('responseCode' in error)) return null;
  return typeof error.responseCode === 'number' ? error.responseCode : null;
}
