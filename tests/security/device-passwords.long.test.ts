/** The checks of devices' passwords don't hold up people, and are not more than so many. */
import { expect, test } from 'vitest';
import { isDevicePassword } from '../../server/farm/device-password.ts';
import { hashPassword, isPassword } from '../../server/farm/password.ts';

test('a flood of device passwords: a person is checked beside it, and the flood is refused beyond fifty', async () => {
  const hash = await hashPassword('propolis-14');
  let checked = 0;
  const flood = Array.from({ length: 60 }, async (_, at) => {
    const right = isDevicePassword(at === 0 ? 'propolis-14' : 'guess', at % 2 === 0 ? hash : undefined);
    return right.finally(() => (checked += 1));
  });
  const outcomes = Promise.allSettled(flood);
  expect(await isPassword('propolis-14', hash)).toBe(true);
  // Ten are refused at once; the person was not behind the fifty others.
  expect(checked).toBeLessThan(10 + 25);
  const settled = await outcomes;
  expect(settled[0]).toEqual({ status: 'fulfilled', value: true });
  expect(settled.filter(({ status }) => status === 'rejected')).toHaveLength(10);
}, 300_000);
