/** Readiness, the calendar feed and the description of the API. */
import type { RequestHandler } from 'express';
import type { CalendarLinks } from '../access/calendar-links.ts';
import type { AppDeps } from '../deps.ts';
import type { ExtraPath } from '../openapi.ts';
import { openApi } from '../openapi.ts';
import { UserError } from '../../user-error.ts';

/** Says nothing but whether it is ready, so it is open to whoever watches the server. */
export const health =
  ({ notReady }: AppDeps): RequestHandler =>
  (_request, response) => {
    const why = notReady();
    response.status(why === null ? 200 : 503).set('Cache-Control', 'no-store');
    response.json(why === null ? { ready: true } : { ready: false, why });
  };

/** `?reminder=12`: hours before each visit. */
function reminderHours(asked: unknown): number | null {
  if (asked === undefined) return null;
  const hours = typeof asked === 'string' && /^\d{1,2}$/.test(asked) ? Number(asked) : NaN;
  if (!(hours >= 1 && hours <= 72))
    throw new UserError(
      'invalid-input',
      'reminder is the hours before a visit: a whole number from 1 to 72.',
    );
  return hours;
}

export const calendarFeed =
  ({ views, nowMs }: AppDeps, links: CalendarLinks): RequestHandler =>
  async (request, response) => {
    const token = request.params['token'];
    if (!links.holderOf(typeof token === 'string' ? token : ''))
      throw new UserError(
        'not-found',
        'There is no such calendar (any more): get its address anew on the Plan page.',
      );
    const text = await views.calendar(nowMs(), reminderHours(request.query['reminder']));
    response.set('Cache-Control', 'private, no-cache').type('text/calendar; charset=utf-8').send(text);
  };

export function apiDescription({ version, settings }: AppDeps, extras: readonly ExtraPath[]): RequestHandler {
  let text: string | undefined;
  return (_request, response) => {
    text ??= JSON.stringify(openApi(version, settings.basePath, extras));
    response.type('application/json').send(text);
  };
}
