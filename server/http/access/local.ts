/** Whether a request comes from this very machine. */
import { BlockList, isIP } from 'node:net';
import type { Request } from 'express';

const loopback = new BlockList();
loopback.addSubnet('127.0.0.0', 8, 'ipv4');
loopback.addAddress('::1', 'ipv6');

function isIn(list: BlockList, address: string | undefined): boolean {
  // IPv4 written as IPv6; a link-local address names its interface after a %.
  const plain = (address?.startsWith('::ffff:') ? address.slice(7) : address)?.split('%')[0];
  const version = plain === undefined ? 0 : isIP(plain);
  return plain !== undefined && version !== 0 && list.check(plain, version === 4 ? 'ipv4' : 'ipv6');
}

/** True for 127.0.0.0/8, ::1 and the former written as IPv6. */
export const isLoopback = (address: string | undefined): boolean => isIn(loopback, address);

export const isLoopbackHost = (host: string): boolean => host === 'localhost' || isLoopback(host);

/** Networks that no router of the internet carries: RFC 1918, 3927 and 4193, and IPv6 link-local (RFC 4291). */
const home = new BlockList();
home.addSubnet('10.0.0.0', 8, 'ipv4');
home.addSubnet('172.16.0.0', 12, 'ipv4');
home.addSubnet('192.168.0.0', 16, 'ipv4');
home.addSubnet('169.254.0.0', 16, 'ipv4');
home.addSubnet('fc00::', 7, 'ipv6');
home.addSubnet('fe80::', 10, 'ipv6');

const forwardingHeaders = ['x-forwarded-for', 'forwarded', 'x-real-ip', 'via'];
/**
 * From this machine, and not through a proxy on it: what a proxy passes on is somebody else's request, whether the
 * proxy is a trusted one or not.
 */
export const isLocalRequest = (request: Request): boolean =>
  isLoopback(request.socket.remoteAddress) && isDirect(request);
/** Straight from a private address other than this machine's loopback. */
export const isHomeRequest = (request: Request): boolean =>
  isIn(home, request.socket.remoteAddress) && isDirect(request);

const isDirect = (request: Request): boolean =>
  forwardingHeaders.every((name) => request.headers[name] === undefined);
