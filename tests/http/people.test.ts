/** What the `welcomb user` command calls. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { addPerson, changePassword, checkPassword } from '../../server/farm/people.ts';
import { openStore } from '../../server/store/store.ts';
import type { Store } from '../../server/store/store.ts';

let store: Store;
let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'welcomb-people-'));
  store = openStore({ file: join(folder, 'welcomb.sqlite') });
});
afterEach(() => {
  store.close();
  rmSync(folder, { recursive: true });
});

const rowan = { name: 'Rowan', role: 'keeper', password: 'old enough 1' } as const;

it('adds a person whose password is then right, in any case of the name', async () => {
  const { id } = await addPerson(store.people, rowan, 5);
  expect((await checkPassword(store.people, 'rowan', rowan.password))?.id).toBe(id);
  expect(await checkPassword(store.people, 'Rowan', 'another one 1')).toBeUndefined();
  expect(await checkPassword(store.people, 'Nobody', rowan.password)).toBeUndefined();
  expect(store.people.get(id)).toMatchObject({ role: 'keeper', createdAtMs: 5 });
});

it('changes a password and ends the sessions that the old one opened', async () => {
  const { id } = await addPerson(store.people, rowan, 5);
  store.people.addSession({ secretHash: 'h', personId: id, csrf: 'c', createdAtMs: 0, expiresAtMs: 1e15 });
  await changePassword(store.people, 'Rowan', 'new enough 2');
  expect(await checkPassword(store.people, 'Rowan', rowan.password)).toBeUndefined();
  expect((await checkPassword(store.people, 'Rowan', 'new enough 2'))?.id).toBe(id);
  expect(store.people.session('h', 0)).toBeUndefined();
});

it.each([
  [{ ...rowan, password: 'short' }, "The password won't do: at least 10 characters."],
  [{ ...rowan, name: ' ' }, "The name won't do: a name is needed."],
  [{ ...rowan, role: 'viewer' as const }, 'The first person has to be a keeper.'],
])('refuses %j in one sentence', async (input, sentence) => {
  await expect(addPerson(store.people, input, 5)).rejects.toThrow(sentence);
  expect(store.people.list()).toEqual([]);
});

it('refuses a name that is taken, and a password for nobody', async () => {
  await addPerson(store.people, rowan, 5);
  await expect(addPerson(store.people, { ...rowan, name: 'ROWAN' }, 5)).rejects.toThrow(
    /named ROWAN already/,
  );
  await expect(changePassword(store.people, 'Ash', 'new enough 2')).rejects.toThrow(
    'There is nobody named Ash.',
  );
});
