/** Several eggs in a cell: a queen that has just begun lays so for some days, on the bottom (common practice). */
import { expect, it } from 'vitest';
import { eggsInDoubt } from '../../server/introduction/brood/eggs-in-doubt.ts';
import type { LayingSign } from '../../server/introduction/log/signs.ts';
import { at } from './support/field-log.ts';

it.each<{
  name: string;
  sign: Omit<LayingSign, 'atMs'> | null;
  day?: number;
  released?: number | null;
  seen?: number;
  doubt: boolean;
}>([
  { name: 'no sign', sign: null, seen: 17, doubt: false },
  { name: 'she was seen', sign: { what: 'several-eggs-a-cell' }, seen: 17, doubt: true },
  {
    name: 'she was seen on the day she was let out',
    sign: { what: 'several-eggs-a-cell' },
    seen: 10,
    doubt: true,
  },
  {
    name: 'she was seen only in her cage before',
    sign: { what: 'several-eggs-a-cell' },
    seen: 8,
    doubt: false,
  },
  { name: 'she was not seen', sign: { what: 'several-eggs-a-cell' }, doubt: false },
  {
    name: 'she was not seen, and they stand on the bottom',
    sign: { what: 'several-eggs-a-cell', eggsStand: 'bottom' },
    doubt: true,
  },
  {
    name: 'the same more than two weeks after',
    sign: { what: 'several-eggs-a-cell', eggsStand: 'bottom' },
    day: 25,
    doubt: false,
  },
  {
    name: 'the same before she was let out',
    sign: { what: 'several-eggs-a-cell', eggsStand: 'bottom' },
    day: 9,
    doubt: false,
  },
  {
    name: 'none was let out',
    sign: { what: 'several-eggs-a-cell', eggsStand: 'bottom' },
    released: null,
    seen: 17,
    doubt: false,
  },
  {
    name: 'eggs on the walls',
    sign: { what: 'eggs-on-the-walls', eggsStand: 'walls' },
    seen: 17,
    doubt: false,
  },
  { name: 'drone brood', sign: { what: 'drone-brood-in-worker-cells' }, seen: 17, doubt: false },
])('$name: $doubt', ({ sign, day = 17, released = 10, seen, doubt }) => {
  const layingWorkers = sign && { ...sign, atMs: at(day) };
  const queen = {
    releasedAtMs: released === null ? null : at(released),
    lastSeenAtMs: seen === undefined ? null : at(seen),
  };
  expect(eggsInDoubt({ queen, signs: { layingWorkers } })).toEqual(doubt ? layingWorkers : null);
});
