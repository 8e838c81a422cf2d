/** Whether a request comes from this very machine. */
import { BlockList, isIP } from 'node:net';
import type { Request } from 'express';

const loopback = new BlockList();
loopback.addSubnet('127.0.0.0', 8, 'ipv4');
loopback.addAddress('::1', 'ipv6');

/** True for 127.0.0.0/8, ::1 and the former written as IPv6. */
export function isLoopback(address: string | undefined): boolean {
  const plain = address?.startsWith('::ffff:') ? address.slice(7) : address;
  const version = plain === undefined ? 0 : isIP(plain);
  return plain !== undefined && version !== 0 && loopback.check(plain, version === 4 ? 'ipv4' : 'ipv6');
}

export const isLoopbackHost = (host: string): boolean => host === 'localhost' || isLoopback(host);

const forwardingHeaders = ['x-forwarded-for', 'forwarded', 'x-real-ip', 'via'];
/**
 * From this machine, and not through a proxy on it: what a proxy passes on is somebody else's request, whether the
 * proxy is a trusted one or not.
 */
export const isLocalRequest = (request: Request): boolean =>
  isLoopback(request.socket.remoteAddress) &&
  forwardingHeaders.every((name) => request.headers[name] === undefined);
