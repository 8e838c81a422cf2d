import { describe, expect, it } from 'vitest';
import { attempt } from './attack.ts';
import { attacks } from './attacks/index.ts';

describe('attacks on the built server, small', () => {
  it.each(attacks.map((attack) => ({ name: attack.name, attack })))(
    'withstands: $name',
    async ({ attack }) => {
      const { held, seen } = await attempt(attack, 'small');
      expect(held ? 'held' : seen).toBe('held');
    },
    120_000,
  );
});
