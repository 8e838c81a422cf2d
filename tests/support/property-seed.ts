/**
 * One seed for every property test, so that a run can be repeated. `PROPERTY_SEED=random` draws a new one and finds what
 * the usual one does not; the seed of a failure is printed with it.
 */
import fc from 'fast-check';

const wanted = process.env.PROPERTY_SEED ?? '20270501';
if (wanted !== 'random') {
  const seed = Number(wanted);
  if (!Number.isInteger(seed))
    throw new Error(`PROPERTY_SEED is “${wanted}”: give a whole number, or random`);
  fc.configureGlobal({ seed });
}
