import { describe, expect, it } from 'vitest';
import type { OperationName } from '../../server/contract/index.ts';
import { operations } from '../../server/contract/index.ts';
import { assignablePlacesByQuantity } from '../../server/contract/sensors.ts';
import { addresses } from '../../dashboard/api/addresses.ts';
import { requestFor } from '../../dashboard/api/request.ts';
import { troubleOf } from '../../dashboard/api/trouble.ts';
import { hashFor, parseHash } from '../../dashboard/hash.ts';
import { placesFor } from '../../dashboard/sensors/places.ts';

describe('requests', () => {
  it('know every operation of the contract by its method and path', () => {
    const contract = Object.fromEntries(
      (Object.keys(operations) as OperationName[]).map((name) => [
        name,
        `${operations[name].method} ${operations[name].path}`,
      ]),
    );
    expect(addresses).toEqual(contract);
  });
  it('are relative, so that the page works below a base path', () => {
    expect(requestFor('listNucs', {}).path).toBe('api/v1/nucs');
  });
  it('put parameters, query and body where they belong, escaped', () => {
    expect(requestFor('getNucChart', { params: { id: 'a/b' }, query: { pixels: 400 } })).toEqual({
      method: 'GET',
      path: 'api/v1/nucs/a%2Fb/chart?pixels=400',
      body: undefined,
    });
    expect(requestFor('actOnAlert', { params: { id: 'x' }, body: { action: 'seen' } }).body).toBe(
      '{"action":"seen"}',
    );
  });
  it('offer the places that the contract has for each quantity', () => {
    expect(placesFor).toEqual(assignablePlacesByQuantity);
  });
});

describe('what goes wrong', () => {
  it('is said in the server’s own sentence', () => {
    const trouble = troubleOf(409, { type: 'conflict', title: 'Conflict', status: 409, detail: 'Taken.' });
    expect([trouble.kind, trouble.message]).toEqual(['refused', 'Taken.']);
  });
  it.each([
    [401, undefined, 'signed-out'],
    [500, undefined, 'failed'],
    [502, undefined, 'no-answer'],
    [400, 'html of a proxy', 'refused'],
  ] as const)('status %i with %s is %s', (status, body, kind) => {
    expect(troubleOf(status, body).kind).toBe(kind);
  });
});

describe('addresses within the page', () => {
  it.each([
    ['', 'today', undefined],
    ['#/nucs/n%201', 'nucs', 'n 1'],
    ['#/log?nuc=n3&kind=fed', 'log', undefined],
    ['#/nucs/%E0%A4%A', 'nucs', '%E0%A4%A'],
  ])('%s is page %s', (hash, page, id) => {
    expect([parseHash(hash).page, parseHash(hash).id]).toEqual([page, id]);
  });
  it('are read back as they were written', () => {
    const read = parseHash(hashFor('log', 'a/ü', { nuc: 'n&1', left: undefined }));
    expect([read.page, read.id, read.query.get('nuc'), read.query.has('left')]).toEqual([
      'log',
      'a/ü',
      'n&1',
      false,
    ]);
  });
});
