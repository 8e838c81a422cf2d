/** The guide's table of error codes is what the server answers with. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { statusOf } from '../../server/http/problem.ts';
import { userErrorCodes, type UserErrorCode } from '../../server/user-error.ts';

const guide = readFileSync(join(import.meta.dirname, '../../server/manual/errors.md'), 'utf8');

test('the guide lists every code with its status and meaning, and no other', () => {
  const listed = [...guide.matchAll(/^\| `([a-z-]+)` \| (\d{3}) \| (.+) \|$/gm)].map(
    ([, code, status, meaning]) => ({
      code,
      status: Number(status),
      meaning,
    }),
  );
  const known = (Object.keys(userErrorCodes) as UserErrorCode[]).map((code) => ({
    code,
    status: statusOf[code],
    meaning: userErrorCodes[code],
  }));
  expect(listed).toEqual(known);
});
