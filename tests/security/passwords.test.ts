import { scryptSync } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { hashPassword, isPassword, nobodysHash } from '../../server/farm/password.ts';

describe('passwords', () => {
  it('fits only itself, and never twice the same hash', async () => {
    const [one, two] = [await hashPassword('long enough 1'), await hashPassword('long enough 1')];
    expect(one).not.toBe(two);
    expect(await isPassword('long enough 1', one)).toBe(true);
    expect(await isPassword('long enough 2', one)).toBe(false);
    expect(await isPassword('', one)).toBe(false);
  });

  it('takes a letter composed in either way for the same letter', async () => {
    const composed = 'K\u00f6nigin 2031';
    expect(await isPassword(composed.normalize('NFD'), await hashPassword(composed))).toBe(true);
  });

  it('fits no hash in another form, and nobody’s hash not at all', async () => {
    for (const hash of ['', 'plain', 'scrypt$16384$8$5$$', nobodysHash]) {
      expect(await isPassword('plain', hash)).toBe(false);
    }
  });

  // RFC 7914 §12, last-but-one test vector, through the form in which hashes are kept.
  it('reads a hash made elsewhere with other costs', async () => {
    const key = scryptSync('pleaseletmein', 'SodiumChloride', 64, { N: 16384, r: 8, p: 1 });
    expect(key.toString('hex')).toMatch(/^7023bdcb3afd7348461c06cd81fd38eb/);
    const kept = `scrypt$16384$8$1$${Buffer.from('SodiumChloride').toString('base64url')}$${key.toString('base64url')}`;
    expect(await isPassword('pleaseletmein', kept)).toBe(true);
  });
});
