/**
 * Minutes after a start in which a device at home may set the first password without the setup code: for a box without
 * a screen and a keeper with only a phone. Off unless a setting turns it on. Trust on first use, common practice of home
 * devices; turning the box off and on opens it anew.
 *
 * It needs a server without people and sites, so that whoever comes first gets an empty one, and a request straight from
 * a private address. A relay on the machine itself comes from loopback, a proxy adds a header: both need the code.
 */
import type { Request } from 'express';
import type { Store } from '../../store/store.ts';
import { isHomeRequest } from './local.ts';

export interface SetupWindow {
  /** How long it is open after a start; 0: never. */
  readonly minutes: number;
  opensTo(request: Request): boolean;
}

/** @param elapsedMs since the start, by a clock that nobody sets: a board's clock leaps when it finds the time */
export function createSetupWindow(
  minutes: number,
  { people, places }: Pick<Store, 'people' | 'places'>,
  elapsedMs: () => number,
): SetupWindow {
  const isEmpty = (): boolean => people.list().length === 0 && places.listSites().length === 0;
  return {
    minutes,
    opensTo: (request) => elapsedMs() < minutes * 60_000 && isHomeRequest(request) && isEmpty(),
  };
}
