/**
 * Refuses requests for a name that is not ours. A hostile page can point its own name at this server's address (DNS
 * rebinding) and then read the answers as if they were its own; the name in `Host` gives it away.
 */
import { isIP } from 'node:net';
import type { RequestHandler } from 'express';
import { UserError } from '../../user-error.ts';

/** The name without port and brackets, in lower case; empty where there is none. */
export function hostNameOf(host: string | undefined): string {
  if (host === undefined || !URL.canParse(`http://${host}`)) return '';
  const url = new URL(`http://${host}`);
  if (url.pathname !== '/' || url.username !== '') return '';
  return url.hostname.replace(/^\[(.*)\]$/, '$1').toLowerCase();
}

/**
 * @param machine this machine's own name; it and `machine.local` are ours
 * @param extra further names from the settings
 */
export function isOwnName(name: string, machine: string, extra: readonly string[]): boolean {
  if (isIP(name) !== 0 || name === 'localhost' || name.endsWith('.localhost')) return true;
  const own = machine.toLowerCase();
  return [own, `${own}.local`, ...extra.map((one) => one.toLowerCase())].includes(name);
}

export function hostCheck(machine: string, extra: readonly string[]): RequestHandler {
  return (request, _response, next) => {
    // Express takes X-Forwarded-Host here only from a trusted proxy.
    const host = request.host as string | undefined;
    const name = hostNameOf(host);
    if (name !== '' && isOwnName(name, machine, extra)) next();
    else {
      next(
        new UserError(
          'unknown-host',
          `This server does not answer to the name "${name}"; if it is its own, add it to hostNames in the settings.`,
        ),
      );
    }
  };
}
