/** What sensors may say of any nuc at any moment. */
import fc from 'fast-check';
import type { GateEvidence } from '../../../server/introduction/acts/gate.ts';
import { at } from './field-log.ts';

const maybe = <T>(arbitrary: fc.Arbitrary<T>): fc.Arbitrary<T | undefined> =>
  fc.option(arbitrary, { nil: undefined });
const told = fc.constantFrom(true, false, 'unknown' as const);

/** Each part is absent in half of all cases. */
export const anyEvidence: fc.Arbitrary<GateEvidence> = fc
  .record({
    foragers: fc.constantFrom('yes' as const, 'no' as const, 'cannot-tell' as const),
    flyingDays: maybe(fc.integer({ min: 0, max: 12 })),
    tooCold: maybe(told),
    enough: maybe(told),
    fitToOpen: maybe(told),
    trouble: maybe(fc.constant('bees left in a mass')),
    leftOnDay: maybe(fc.integer({ min: 0, max: 30 })),
    robbing: maybe(fc.constant('Robbing is under way.')),
    chanceLimit: fc.constantFrom(0.05, 0.02),
  })
  .map(({ foragers, flyingDays, tooCold, enough, fitToOpen, trouble, leftOnDay, robbing, chanceLimit }) => ({
    foragersGone: { answer: foragers, text: 'What the scale says.' },
    chanceLimit,
    ...(flyingDays !== undefined && { flyingDays }),
    ...(tooCold !== undefined && { outlook: { text: 'The night ahead.', tooCold } }),
    ...(enough !== undefined && { strength: { text: 'The bees in it.', enough } }),
    ...(fitToOpen !== undefined && { weather: { text: 'The weather.', fitToOpen } }),
    ...(trouble !== undefined && { trouble }),
    ...(leftOnDay !== undefined && {
      lookFirst: {
        sinceMs: at(leftOnDay, 14),
        headline: 'Bees left in a mass: look first',
        text: 'They left.',
      },
    }),
    ...(robbing !== undefined && { robbing }),
  }));
