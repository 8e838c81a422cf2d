/** Each trouble of an introduction by other equations is told, and nothing else beside it. */
import { expect, it } from 'vitest';
import { troubles, troubleVerdict } from './introductions-level.ts';

it.each(troubles.map((trouble) => [trouble.name, trouble] as const))(
  '%s',
  (_, trouble) => {
    expect(troubleVerdict(trouble, 141, 30)).toEqual({ told: true, other: [] });
  },
  120_000,
);
