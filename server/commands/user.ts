/** `welcomb user`: people and their passwords, from the machine itself; the server may run meanwhile. */
import { addPerson, changePassword } from '../farm/people.ts';
import type { Role } from '../store/people.ts';
import type { Store } from '../store/store.ts';
import {
  CommandRefused,
  dataFolder,
  dataHelp,
  dataOptions,
  exitCode,
  exitCodesHelp,
  parsed,
  type Command,
  type CommandContext,
} from './command-line.ts';
import { withStore } from './stored.ts';

const roles = ['keeper', 'helper', 'viewer'] as const;

const help = `People who may sign in. The server may run meanwhile.

  welcomb user list
  welcomb user add NAME [--role keeper|helper|viewer]
  welcomb user password NAME [--keep-tokens]
                                   a new password; ends the sessions, API keys and calendar links of NAME
  welcomb user role NAME ROLE
  welcomb user remove NAME         also ends the sessions, API keys and calendar links of NAME

A keeper may do everything, a helper may log visits, a viewer may look. The first person has to be a keeper.
The password is asked for, or read from the standard input. It is never part of the command line, where others on this
machine could read it.

  --role ROLE       for add (default keeper)
  --keep-tokens     for password: leaves the API keys of NAME valid
${dataHelp}
${exitCodesHelp}`;

type Act = (store: Store, name: string) => string | Promise<string>;

export const userCommand: Command = {
  name: 'user',
  about: 'list, add and remove people; set passwords and roles',
  help,
  run(args, context) {
    const { values, positionals } = parsed('user', args, {
      ...dataOptions,
      role: { type: 'string' },
      'keep-tokens': { type: 'boolean', default: false },
    });
    const folder = dataFolder(values, context.env);
    const [what, name, ...more] = positionals;
    if (what === 'list') {
      refuseSpare(name);
      return withStore(folder, { write: false, nowMs: context.nowMs }, (store) => {
        list(store, context);
        return exitCode.done;
      });
    }
    const act = actOf(what, more, { role: values.role, keepTokens: values['keep-tokens'] }, context);
    if (name === undefined) throw new CommandRefused(`Name the person: welcomb user ${what ?? 'add'} NAME.`);
    return withStore(folder, { write: true, nowMs: context.nowMs }, async (store) => {
      const done = await act(store, name);
      store.people.noteAudit('command line', done);
      context.say(done);
      return exitCode.done;
    });
  },
};

function actOf(
  what: string | undefined,
  more: readonly string[],
  { role, keepTokens }: { readonly role: string | undefined; readonly keepTokens: boolean },
  { askSecret, nowMs }: CommandContext,
): Act {
  const most = what === 'role' ? 1 : 0;
  refuseSpare(more[most]);
  switch (what) {
    case 'add': {
      const chosen = roleOf(role ?? 'keeper');
      return async (store, name) => {
        const password = await askSecret(`Password for ${name}: `);
        await addPerson(store.people, { name, role: chosen, password }, nowMs());
        return `${name} was added as ${chosen}.`;
      };
    }
    case 'password':
      return async (store, name) => {
        personNamed(store, name);
        const password = await askSecret(`New password for ${name}: `);
        const ended = await changePassword(store.people, name, password, { keepTokens });
        const tokens = ended === 0 ? '' : `; ${String(ended)} API ${ended === 1 ? 'key' : 'keys'} ended`;
        return `${name} has a new password and is signed out everywhere${tokens}.`;
      };
    case 'role': {
      const chosen = roleOf(more[0]);
      return (store, name) => {
        store.people.setRole(personNamed(store, name).id, chosen);
        return `${name} is ${chosen} now.`;
      };
    }
    case 'remove':
      return (store, name) => {
        store.people.remove(personNamed(store, name).id);
        return `${name} was removed.`;
      };
    default:
      throw new CommandRefused(
        `${what === undefined ? 'Say what to do' : `"${what}" is nothing that user can do`}: list, add, password, role or remove.`,
      );
  }
}

function refuseSpare(word: string | undefined): void {
  if (word !== undefined)
    throw new CommandRefused(`"${word}" is one word too many; put a name with spaces in quotes.`);
}

function roleOf(text: string | undefined): Role {
  const role = roles.find((one) => one === text);
  if (role !== undefined) return role;
  throw new CommandRefused(
    `The role is ${text === undefined ? 'missing' : `"${text}"`}: it is one of ${roles.join(', ')}.`,
  );
}

function personNamed(store: Store, name: string) {
  const person = store.people.byName(name);
  if (person) return person;
  throw new CommandRefused(`There is nobody named ${name}; "welcomb user list" says who there is.`);
}

function list(store: Store, { say }: CommandContext): void {
  const people = store.people.list();
  if (people.length === 0)
    say('Nobody yet: only this machine is let in. Add a keeper with "welcomb user add NAME".');
  for (const { name, role, createdAtMs } of people)
    say(`${name}\t${role}\tsince ${new Date(createdAtMs).toISOString().slice(0, 10)}`);
}
