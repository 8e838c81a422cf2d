/** An introduction by other equations that goes well raises nothing but its calendar; each trouble is told, and nothing else. */
import { expect, it } from 'vitest';
import { troubles, troubleVerdict, unexpected } from './introductions-level.ts';
import { secondIntroduction } from './second-introduction.ts';

it('one that goes well raises what its calendar brings, and nothing else', () => {
  const one = secondIntroduction(140, { stepMinutes: 30 })!;
  expect(one.raised.map(({ ruleId }) => ruleId)).toContain('foragers-gone');
  expect(unexpected(one)).toEqual([]);
}, 120_000);

it.each(troubles.map((trouble) => [trouble.name, trouble] as const))(
  '%s',
  (_, trouble) => {
    expect(troubleVerdict(trouble, 141, 30)).toEqual({ told: true, other: [] });
  },
  120_000,
);
