/** People and their passwords, for the page and for the `welcomb user` command. */
import type { Person, Role } from '../store/people.ts';
import { StoreConflict } from '../store/errors.ts';
import type { Store } from '../store/store.ts';
import { hashPassword, isPassword, nobodysHash } from './password.ts';
import { newId } from './secrets.ts';
import { personInputSchema } from '../contract/settings.ts';

type People = Store['people'];

export const passwordThere = 'A password is set already: sign in, or change it with "welcomb user".';

export interface NewPerson {
  readonly name: string;
  readonly role: Role;
  readonly password: string;
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
  const { name, role, password } = checked.data;
  const passwordHash = await hashPassword(password);
  // After the hashing, in which time somebody else may have been quicker.
  const isFirst = people.list().length === 0;
  if (isFirst && role !== 'keeper') throw new StoreConflict('The first person has to be a keeper.');
  if (onlyFirst && !isFirst) throw new StoreConflict(passwordThere);
  const person = { id: newId(), name, role, passwordHash, createdAtMs: nowMs };
  people.add(person);
  return person;
}

/** Ends all sessions of the person, and the old address of the calendar feed. */
export async function changePassword(people: People, name: string, password: string): Promise<void> {
  const person = people.byName(name);
  if (!person) throw new StoreConflict(`There is nobody named ${name}.`);
  const checked = personInputSchema.shape.password.safeParse(password);
  if (!checked.success) {
    throw new StoreConflict(`The password won't do: ${checked.error.issues[0]?.message ?? 'not valid'}.`);
  }
  people.setPassword(person.id, await hashPassword(checked.data));
}

/** The person whose password this is. Takes as long for an unknown name as for a wrong password. */
export async function checkPassword(
  people: People,
  name: string,
  password: string,
): Promise<Person | undefined> {
  const person = people.byName(name);
  const right = await isPassword(password, person?.passwordHash ?? nobodysHash);
  return right ? person : undefined;
}
