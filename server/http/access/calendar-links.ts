/**
 * Secret addresses of the calendar feed, one a person: a keyed hash (HMAC-SHA256) of who it is for, so that asking
 * again gives the same address. A new password or a removed person ends the old address.
 */
import { createHmac, randomBytes, timingSafeEqual } from 'node:crypto';
import * as z from 'zod';
import { calendarKeySetting } from '../../store/backup/restore.ts';
import type { Store } from '../../store/store.ts';
import type { Actor } from '../../views/views.ts';
import { keeperAtTheMachine } from './access.ts';

interface Holder {
  readonly id: string;
  readonly name: string;
}

export interface CalendarLinks {
  /** Path below the base path; undefined for an actor who is no person (an API token). */
  pathFor(actor: Actor): string | undefined;
  holderOf(token: string): Holder | undefined;
}

/** Before a password is set there is one keeper and no person. */
const atTheMachine = { id: 'keeper', name: keeperAtTheMachine.name };

export function createCalendarLinks(store: Store): CalendarLinks {
  const key = (): string => {
    const kept = z.string().min(43).safeParse(store.settings.get(calendarKeySetting));
    if (kept.success) return kept.data;
    const made = randomBytes(32).toString('base64url');
    store.settings.put(calendarKeySetting, made, { by: 'server', secret: true });
    return made;
  };
  const macOf = (id: string, passwordHash: string): string =>
    createHmac('sha256', key()).update(`${id}\n${passwordHash}`).digest('base64url');
  const somebody = (): boolean => store.people.list().length > 0;

  function known(id: string): { holder: Holder; mac: string } | undefined {
    if (id === atTheMachine.id && !somebody()) return { holder: atTheMachine, mac: macOf(id, '') };
    const person = store.people.get(id);
    return person && { holder: { id, name: person.name }, mac: macOf(id, person.passwordHash) };
  }

  return {
    pathFor(actor) {
      const id = actor.personId ?? (somebody() ? undefined : atTheMachine.id);
      const found = id === undefined ? undefined : known(id);
      return found && `/calendar/${found.holder.id}~${found.mac}.ics`;
    },
    holderOf(token) {
      const [id = '', mac = ''] = token.split('~');
      const found = known(id);
      if (!found || mac.length !== found.mac.length) return undefined;
      return timingSafeEqual(Buffer.from(mac), Buffer.from(found.mac)) ? found.holder : undefined;
    },
  };
}
