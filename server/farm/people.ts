/** People and their passwords, for the page and for the `welcomb user` command. */
import type { Person, Role } from '../store/people.ts';
import { StoreConflict } from '../store/errors.ts';
import type { Store } from '../store/store.ts';
import { lookOf, nameProblem, plainName } from './names.ts';
import { hashPassword, isPassword, nobodysHash } from './password.ts';
import { passwordProblem } from './password-strength.ts';
import { newId } from './secrets.ts';
import { personInputSchema } from '../contract/people.ts';

type People = Store['people'];

export const passwordThere = 'A password is set already: sign in, or change it with "welcomb user".';

export interface NewPerson {
  readonly name: string;
  readonly role: Role;
  readonly password: string;
}

/** Throws `StoreConflict` for a name that can't be read for what it is, or looks like somebody else's. */
function checkName(people: People, name: string): void {
  const problem = nameProblem(name);
  if (problem !== null) throw new StoreConflict(`The name won't do: ${problem}.`);
  const alike = people.list().find((one) => lookOf(one.name) === lookOf(name));
  if (!alike) return;
  throw new StoreConflict(
    alike.name.toLowerCase() === name.toLowerCase()
      ? `There is somebody named ${name} already.`
      : `The name won't do: it looks like that of ${alike.name}.`,
  );
}

async function checkStrength(password: string, name: string): Promise<void> {
  const problem = await passwordProblem(password, [name, ...name.split(' ')]);
  if (problem !== null) throw new StoreConflict(`The password won't do: ${problem}.`);
}

/**
 * Throws `StoreConflict` with one sentence where the name is taken, the input won't do, or the first person would not
 * be a keeper (nobody could make another one). With `onlyFirst` also where there is somebody already.
 */
export async function addPerson(
  people: People,
  input: NewPerson,
  nowMs: number,
  { onlyFirst = false }: { readonly onlyFirst?: boolean } = {},
): Promise<Person> {
  const checked = personInputSchema.safeParse(input);
  if (!checked.success) {
    const issue = checked.error.issues[0];
    throw new StoreConflict(
      `The ${issue?.path.join('.') ?? 'input'} won't do: ${issue?.message ?? 'not valid'}.`,
    );
  }
  const { role, password } = checked.data;
  const name = plainName(checked.data.name);
  checkName(people, name);
  await checkStrength(password, name);
  const passwordHash = await hashPassword(password);
  // After the hashing, in which time somebody else may have been quicker.
  const isFirst = people.list().length === 0;
  if (isFirst && role !== 'keeper') throw new StoreConflict('The first person has to be a keeper.');
  if (onlyFirst && !isFirst) throw new StoreConflict(passwordThere);
  checkName(people, name);
  const person = { id: newId(), name, role, passwordHash, createdAtMs: nowMs };
  people.add(person);
  return person;
}

/**
 * Ends all sessions of the person, the old address of the calendar feed and, unless they are kept, the API tokens.
 * Returns how many tokens ended.
 */
export async function changePassword(
  people: People,
  name: string,
  password: string,
  { keepTokens = false }: { readonly keepTokens?: boolean } = {},
): Promise<number> {
  const person = people.byName(name);
  if (!person) throw new StoreConflict(`There is nobody named ${name}.`);
  const checked = personInputSchema.shape.password.safeParse(password);
  if (!checked.success) {
    throw new StoreConflict(`The password won't do: ${checked.error.issues[0]?.message ?? 'not valid'}.`);
  }
  await checkStrength(checked.data, person.name);
  return people.setPassword(person.id, await hashPassword(checked.data), { keepTokens });
}

/** The person whose password this is. Takes as long for an unknown name as for a wrong password. */
export async function checkPassword(
  people: People,
  name: string,
  password: string,
): Promise<Person | undefined> {
  // As it was typed first: names from before are kept as they are.
  const person = people.byName(name) ?? people.byName(plainName(name));
  const right = await isPassword(password, person?.passwordHash ?? nobodysHash);
  return right ? person : undefined;
}
