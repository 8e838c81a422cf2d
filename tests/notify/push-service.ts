/**
 * A push service and a phone on loopback, by the texts of the standards and nothing of ours: RFC 8030 takes the message,
 * RFC 8292 proves who sent it, RFC 8291 and RFC 8188 decrypt it, all with Node's own crypto.
 */
import {
  createDecipheriv,
  createECDH,
  createPublicKey,
  hkdfSync,
  randomBytes,
  verify,
  type ECDH,
} from 'node:crypto';
import { createServer, type IncomingHttpHeaders } from 'node:http';
import type { AddressInfo } from 'node:net';
import { buffer } from 'node:stream/consumers';

export interface PhoneKeys {
  readonly p256dh: Buffer;
  readonly auth: Buffer;
  readonly privateKey: Buffer;
}

export function newPhone(): PhoneKeys {
  const pair = createECDH('prime256v1');
  const p256dh = pair.generateKeys();
  return { p256dh, auth: randomBytes(16), privateKey: pair.getPrivateKey() };
}
/** As a notification channel keeps them. */
export const keysOf = ({ p256dh, auth }: PhoneKeys): string =>
  `${p256dh.toString('base64url')}.${auth.toString('base64url')}`;

const hkdf = (salt: Buffer, key: Buffer, info: Buffer, length: number): Buffer =>
  Buffer.from(hkdfSync('sha256', key, salt, info, length));

/** RFC 8188 §2.1: salt 16, record size 4, key id (RFC 8291 §4: the sender's public key, 65). Throws where it does not fit. */
export function decrypt(body: Buffer, phone: PhoneKeys): Buffer {
  const salt = body.subarray(0, 16);
  const recordSize = body.readUInt32BE(16);
  const idLength = body.readUInt8(20);
  const sender = body.subarray(21, 21 + idLength);
  const record = body.subarray(21 + idLength);
  if (record.length > recordSize) throw new Error('more than one record');
  const pair: ECDH = createECDH('prime256v1');
  pair.setPrivateKey(phone.privateKey);
  // RFC 8291 §3.4.
  const keyInfo = Buffer.concat([Buffer.from('WebPush: info\0'), phone.p256dh, sender]);
  const secret = hkdf(phone.auth, pair.computeSecret(sender), keyInfo, 32);
  const key = hkdf(salt, secret, Buffer.from('Content-Encoding: aes128gcm\0'), 16);
  const nonce = hkdf(salt, secret, Buffer.from('Content-Encoding: nonce\0'), 12);
  const decipher = createDecipheriv('aes-128-gcm', key, nonce);
  decipher.setAuthTag(record.subarray(-16));
  const padded = Buffer.concat([decipher.update(record.subarray(0, -16)), decipher.final()]);
  // RFC 8188 §2: the last record ends with a delimiter of 2 and any number of zeros.
  const end = padded.findLastIndex((byte) => byte !== 0);
  if (padded[end] !== 2) throw new Error('no delimiter of a last record');
  return padded.subarray(0, end);
}

export interface Claims {
  readonly aud: string;
  readonly exp: number;
  readonly sub: string;
}

/** RFC 8292 §2-3: the claims, once the signature fits the key that came with it. Throws otherwise. */
export function vapidClaims(authorization: string | undefined): Claims & { readonly publicKey: string } {
  const [, token = '', publicKey = ''] = /^vapid t=([\w.-]+), ?k=([\w-]+)$/.exec(authorization ?? '') ?? [];
  const [header = '', claims = '', signature = ''] = token.split('.');
  const read = (part: string): unknown => JSON.parse(Buffer.from(part, 'base64url').toString());
  if ((read(header) as { alg: string }).alg !== 'ES256') throw new Error('not ES256');
  const point = Buffer.from(publicKey, 'base64url');
  const [x, y] = [point.subarray(1, 33), point.subarray(33)].map((part) => part.toString('base64url'));
  const key = createPublicKey({ key: { kty: 'EC', crv: 'P-256', x, y }, format: 'jwk' } as never);
  const fits = verify(
    'sha256',
    Buffer.from(`${header}.${claims}`),
    { key, dsaEncoding: 'ieee-p1363' },
    Buffer.from(signature, 'base64url'),
  );
  if (!fits) throw new Error('the signature does not fit');
  return { ...(read(claims) as Claims), publicKey };
}

export interface PushService {
  readonly origin: string;
  readonly received: {
    readonly path: string;
    readonly headers: IncomingHttpHeaders;
    readonly body: Buffer;
  }[];
  /** What is answered instead of 201. */
  status: number;
  retryAfter: string | null;
  close(): Promise<void>;
}

export async function pushService(): Promise<PushService> {
  const service: Pick<PushService, 'received' | 'status' | 'retryAfter'> = {
    received: [],
    status: 201,
    retryAfter: null,
  };
  const server = createServer((request, response) => {
    void buffer(request).then((body) => {
      if (service.status === 201)
        service.received.push({ path: request.url ?? '', headers: request.headers, body });
      if (service.retryAfter !== null) response.setHeader('retry-after', service.retryAfter);
      response.writeHead(service.status).end();
    });
  });
  await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
  return Object.assign(service, {
    origin: `http://127.0.0.1:${String((server.address() as AddressInfo).port)}`,
    close: () =>
      new Promise<void>((closed) => {
        server.closeAllConnections();
        server.close(() => {
          closed();
        });
      }),
  });
}
