/**
 * Passwords of people, hashed with scrypt (RFC 7914). The cost is the 16 MiB row of common advice (N = 2^14, r = 8,
 * p = 5) and not a bigger one, because a small computer has to afford it; hashing runs one at a time, so that a flood
 * of attempts can't take the memory either.
 */
import { randomBytes, scrypt, timingSafeEqual } from 'node:crypto';
import { makeTurns } from './password-turns.ts';

interface Cost {
  readonly N: number;
  readonly r: number;
  readonly p: number;
}
const defaultCost: Cost = { N: 2 ** 14, r: 8, p: 5 };
const keyBytes = 32;
const form = /^scrypt\$(\d+)\$(\d+)\$(\d+)\$([A-Za-z0-9_-]+)\$([A-Za-z0-9_-]+)$/;

const derive = (password: string, salt: Buffer, cost: Cost, bytes: number): Promise<Buffer> =>
  new Promise((resolve, reject) => {
    // The same password typed on two systems may be composed differently; NFKC makes them one.
    scrypt(
      password.normalize('NFKC'),
      salt,
      bytes,
      { ...cost, maxmem: 256 * cost.N * cost.r },
      (error, key) => {
        if (error) reject(error);
        else resolve(key);
      },
    );
  });

const inTurn = makeTurns();

/** `scrypt$N$r$p$salt$key`, salt and key as base64url. */
export async function hashPassword(password: string): Promise<string> {
  const salt = randomBytes(16);
  const key = await inTurn(() => derive(password, salt, defaultCost, keyBytes));
  const { N, r, p } = defaultCost;
  return `scrypt$${String(N)}$${String(r)}$${String(p)}$${salt.toString('base64url')}$${key.toString('base64url')}`;
}

/** Whether a password can be checked against it. */
export const isPasswordHash = (text: string): boolean => form.test(text);

/** Whether the password is the hashed one; a hash in another form is never right. */
export async function isPassword(password: string, hash: string, turns = inTurn): Promise<boolean> {
  const [, N, r, p, salt = '', key = ''] = form.exec(hash) ?? [];
  if (key === '') return false;
  const wanted = Buffer.from(key, 'base64url');
  const cost = { N: Number(N), r: Number(r), p: Number(p) };
  const given = await turns(() => derive(password, Buffer.from(salt, 'base64url'), cost, wanted.length));
  return timingSafeEqual(given, wanted);
}

/** A hash that no password fits: checking against it takes as long as against a real one. */
export const nobodysHash = `scrypt$${String(defaultCost.N)}$8$5$${'A'.repeat(22)}$${'A'.repeat(43)}`;
