/** The HTTP layer put together: checks first, then the API, the calendar and the page. */
import compression from 'compression';
import express, { Router } from 'express';
import type { Express, RequestHandler } from 'express';
import helmet from 'helmet';
import type { Access } from './access/access.ts';
import { createAccess, openTo, originCheck } from './access/access.ts';
import type { CalendarLinks } from './access/calendar-links.ts';
import { createCalendarLinks } from './access/calendar-links.ts';
import { hostCheck } from './access/host-check.ts';
import {
  accountLimit,
  bodyDeadline,
  checkJsonBody,
  familiarAddresses,
  passwordLimit,
} from './access/limits.ts';
import { isLoopbackHost } from './access/local.ts';
import { mayFail } from './access/may-fail.ts';
import { createSessions } from './access/sessions.ts';
import { createTokens } from './access/tokens.ts';
import type { AppDeps } from './deps.ts';
import { exportPaths, exportRoutes } from './export/routes.ts';
import type { Handlers } from './operation.ts';
import { operationRoutes } from './operation.ts';
import { problems, unknownRoute } from './problem.ts';
import { restoreRoutes, uploadPaths, uploadRoute } from './restore.ts';
import { alertRoutes, limitRoutes, nucRoutes, reviewRoutes } from './routes/analysis.ts';
import { channelRoutes } from './routes/channels.ts';
import { eventStream } from './routes/events.ts';
import { farmRoutes, notificationChannelRoutes } from './routes/farm.ts';
import { hiveVisitRoutes } from './routes/hive-visits.ts';
import { introductionRoutes } from './routes/introductions.ts';
import { logRoutes } from './routes/log.ts';
import { apiDescription, calendarFeed, health } from './routes/other.ts';
import type { Entrance } from './routes/people.ts';
import { accountNamed, ownAccount, peopleRoutes, sessionRoutes, tokenRoutes } from './routes/people.ts';
import { assignmentRoutes, hiveRoutes, siteRoutes } from './routes/places.ts';
import { arrivalRoutes, planRoutes } from './routes/plan.ts';
import { readingRoutes } from './routes/readings.ts';
import { deviceRoutes, mappingRoutes, quarantineRoutes } from './routes/sensors.ts';
import { statusRoutes } from './routes/status.ts';
import { builtDashboard, dashboardFiles } from './static-files.ts';

/** Largest JSON body: a day of field log from a queue of many phones is far below it. */
const bodyLimit = '1mb';
const bodyMs = 30_000;

const securityHeaders = helmet({
  contentSecurityPolicy: {
    useDefaults: false,
    directives: {
      defaultSrc: ["'self'"],
      imgSrc: ["'self'", 'data:'],
      objectSrc: ["'none'"],
      baseUri: ["'none'"],
      formAction: ["'self'"],
      frameAncestors: ["'none'"],
    },
  },
  // A home server is also reached by plain HTTP, by names that other things share: nothing may pin them to HTTPS.
  strictTransportSecurity: false,
  referrerPolicy: { policy: 'no-referrer' },
});

function entranceOf({ store, nowMs, settings }: AppDeps): Entrance {
  const { people } = store;
  const { basePath, sessionDays, http } = settings;
  const sessions = createSessions({ people, nowMs, days: sessionDays, basePath });
  const tokens = createTokens(people, nowMs);
  const passwordSet = (): boolean => people.list().length > 0;
  const access = createAccess({ passwordSet, sessions, tokens, loopbackOnly: isLoopbackHost(http.host) });
  return { access, sessions, tokens, familiar: familiarAddresses() };
}

function handlersOf(deps: AppDeps, entrance: Entrance, links: CalendarLinks): Handlers {
  return {
    ...sessionRoutes(deps, entrance),
    ...siteRoutes(deps),
    ...hiveRoutes(deps),
    ...assignmentRoutes(deps),
    ...nucRoutes(deps),
    ...hiveVisitRoutes(deps),
    ...introductionRoutes(deps),
    ...logRoutes(deps),
    ...channelRoutes(deps),
    ...readingRoutes(deps),
    ...quarantineRoutes(deps),
    ...mappingRoutes(deps),
    ...deviceRoutes(deps),
    ...alertRoutes(deps),
    ...arrivalRoutes(deps),
    ...planRoutes(deps, links),
    ...reviewRoutes(deps),
    ...farmRoutes(deps),
    ...limitRoutes(deps),
    ...notificationChannelRoutes(deps),
    ...peopleRoutes(deps),
    ...tokenRoutes(deps, entrance),
    ...statusRoutes(deps),
    ...restoreRoutes(deps),
  };
}

function apiRouter(deps: AppDeps, entrance: Entrance, links: CalendarLinks): Router {
  const api = Router();
  api.use((_request, response, next) => {
    response.set('Cache-Control', 'no-store');
    next();
  });
  api.get('/events', eventStream(deps, entrance.access));
  const extras = [...exportPaths, ...uploadPaths].map((extra) => ({
    ...extra,
    path: `/api/v1${extra.path}`,
  }));
  api.get('/openapi.json', apiDescription(deps, extras));
  // Before the body parser: imports stream in.
  api.use(exportRoutes(deps, entrance.access), uploadRoute(deps, entrance.access));
  api.use(['/session', '/password'], passwordLimit());
  api.use(
    bodyDeadline(bodyMs),
    express.json({ limit: bodyLimit, type: 'application/json', verify: checkJsonBody }),
  );
  api.post('/session', accountLimit(accountNamed, entrance.familiar));
  api.post('/password/change', accountLimit(ownAccount(entrance), entrance.familiar));
  api.use(
    operationRoutes(handlersOf(deps, entrance, links), {
      access: entrance.access,
      nowMs: deps.nowMs,
      record: (actor, what) => {
        const who = actor?.name ?? 'somebody';
        const noted = mayFail(() => {
          deps.store.people.noteAudit(who, what);
        });
        // The change itself is made: the log is the next best place.
        if (!noted) deps.log.warn({ who, what }, 'a change could not be noted in the access log');
      },
      checkResponses: deps.checkResponses ?? false,
    }),
  );
  api.use(unknownRoute);
  return api;
}

function guarded(deps: AppDeps, access: Access): Router {
  const guards = Router();
  guards.use(hostCheck(deps.machineName, deps.settings.hostNames), openTo(access), originCheck(access));
  // Event streams are sent as they come. Level 4: a chart of 2,000 points and three series shrinks from 138 to 32 KB in
  // 40 % of the time that level 6 takes for 30 KB.
  guards.use(
    compression({
      threshold: 1024,
      level: 4,
      filter: (request, response) =>
        response.getHeader('Content-Type')?.toString().startsWith('text/event-stream') !== true &&
        compression.filter(request, response),
    }),
  );
  return guards;
}

/** Its package is loaded by the first who asks. */
function onceAsked(deps: AppDeps, access: Access): RequestHandler {
  let route: Promise<RequestHandler> | undefined;
  return async (request, response, next) => {
    route ??= import('./metrics.ts').then(({ metricsRoute }) => metricsRoute(deps, access));
    return (await route)(request, response, next);
  };
}

/** The page's own addresses are relative: without the slash they would lead beside the base path. */
const slashAfter =
  (basePath: string): RequestHandler =>
  (request, response, next) => {
    const [path, query] = request.originalUrl.split('?', 2);
    if (path !== basePath || request.method !== 'GET') next();
    else response.redirect(308, `${basePath}/${query === undefined ? '' : `?${query}`}`);
  };

/** Everything under one Express application; the base path works with and without being stripped by the proxy. */
export function createApp(deps: AppDeps): Express {
  const { settings } = deps;
  const entrance = entranceOf(deps);
  const links = createCalendarLinks(deps.store);
  const routes = Router();
  routes.get('/healthz', health(deps));
  routes.use(guarded(deps, entrance.access));
  if (settings.metrics) routes.get('/metrics', onceAsked(deps, entrance.access));
  routes.use('/api/v1', apiRouter(deps, entrance, links));
  routes.get('/calendar/:token.ics', calendarFeed(deps, links));
  routes.use(dashboardFiles(deps.dashboardFolder ?? builtDashboard()));

  const app = express();
  app.disable('x-powered-by');
  app.set('etag', false);
  app.set('trust proxy', settings.trustedProxies.length > 0 ? settings.trustedProxies : false);
  app.use(securityHeaders);
  if (settings.basePath !== '') app.use(settings.basePath, slashAfter(settings.basePath), routes);
  app.use(routes);
  app.use(unknownRoute, problems(deps.log));
  return app;
}
