/** The pure halves of the checks against DNS rebinding and cross-site requests. */
import { describe, expect, it } from 'vitest';
import { hostNameOf, isOwnName } from '../../server/http/access/host-check.ts';
import { isLoopback } from '../../server/http/access/local.ts';
import { originVerdict } from '../../server/http/access/origin-check.ts';

describe('names that are ours', () => {
  it.each([
    ['127.0.0.1:8480', true],
    ['[::1]:8480', true],
    ['192.168.4.20', true],
    ['localhost:8480', true],
    ['nucs.localhost', true],
    ['Shed.local:8480', true],
    ['shed', true],
    ['nucs.example.org', true],
    ['attacker.example', false],
    ['127.0.0.1.attacker.example', false],
    ['localhost.attacker.example', false],
    ['shed.attacker.example', false],
    ['', false],
    ['user@shed', false],
    ['a b', false],
  ])('%s → %s', (host, ours) => {
    const name = hostNameOf(host);
    expect(name !== '' && isOwnName(name, 'shed', ['NUCS.example.org'])).toBe(ours);
  });
});

describe('where a change comes from', () => {
  const own = 'http://192.168.4.20:8480';
  it.each([
    [{ origin: 'http://192.168.4.20:8480' }, 'ours'],
    [{ origin: 'http://192.168.4.20:8480', 'sec-fetch-site': 'same-origin' }, 'ours'],
    [{ 'sec-fetch-site': 'none' }, 'ours'],
    [{}, 'unsaid'],
    [{ origin: 'http://192.168.4.20' }, 'foreign'],
    [{ origin: 'http://192.168.4.20:8480.attacker.example' }, 'foreign'],
    [{ origin: 'https://attacker.example' }, 'foreign'],
    [{ origin: 'null' }, 'foreign'],
    [{ origin: '' }, 'foreign'],
    [{ 'sec-fetch-site': 'cross-site' }, 'foreign'],
    [{ 'sec-fetch-site': 'same-site' }, 'foreign'],
    [{ origin: 'http://192.168.4.20:8480', 'sec-fetch-site': 'cross-site' }, 'foreign'],
  ] as const)('%o → %s', (headers, verdict) => {
    expect(originVerdict(headers, own)).toBe(verdict);
  });
});

describe('this machine', () => {
  it.each([
    ['127.0.0.1', true],
    ['127.8.9.1', true],
    ['::1', true],
    ['::ffff:127.0.0.1', true],
    ['::ffff:10.0.0.1', false],
    ['10.0.0.1', false],
    ['fe80::1', false],
    ['', false],
    [undefined, false],
  ])('%s → %s', (address, local) => {
    expect(isLoopback(address)).toBe(local);
  });
});
