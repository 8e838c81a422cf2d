/**
 * The HTTP contract: every operation once, with the schemas that validate what comes in and describe what goes
 * out. The server registers its routes from this table, `openapi.json` is generated from it, and the dashboard's
 * client takes its types from it.
 */
import type * as z from 'zod';
import { accountOperations } from './operations/account.ts';
import { alertOperations } from './operations/alerts.ts';
import { channelOperations } from './operations/channels.ts';
import { deviceOperations } from './operations/devices.ts';
import { hiveOperations } from './operations/hives.ts';
import { introductionOperations } from './operations/introductions.ts';
import { mappingOperations } from './operations/mappings.ts';
import { notificationOperations } from './operations/notifications.ts';
import { nucOperations } from './operations/nucs.ts';
import { peopleOperations } from './operations/people.ts';
import { planOperations } from './operations/plan.ts';
import { reviewOperations } from './operations/review.ts';
import { serverOperations } from './operations/server.ts';
import { settingsOperations } from './operations/settings.ts';
import { siteOperations } from './operations/sites.ts';
import type { Operation } from './operations/operation.ts';

export type { Operation, Role } from './operations/operation.ts';

export const operations = {
  ...accountOperations,
  ...siteOperations,
  ...nucOperations,
  ...hiveOperations,
  ...introductionOperations,
  ...channelOperations,
  ...mappingOperations,
  ...deviceOperations,
  ...alertOperations,
  ...planOperations,
  ...reviewOperations,
  ...settingsOperations,
  ...notificationOperations,
  ...peopleOperations,
  ...serverOperations,
} as const satisfies Record<string, Operation>;

export type Operations = typeof operations;
export type OperationName = keyof Operations;
/** What a client sends and gets, by operation. */
export type BodyOf<N extends OperationName> = Operations[N] extends { body: infer B extends z.ZodType }
  ? z.input<B>
  : undefined;
export type QueryOf<N extends OperationName> = Operations[N] extends { query: infer Q extends z.ZodType }
  ? z.input<Q>
  : undefined;
export type ResponseOf<N extends OperationName> = Operations[N] extends {
  response: infer R extends z.ZodType;
}
  ? z.output<R>
  : undefined;
/** What a server handler is given, after parsing. */
export type ParsedBodyOf<N extends OperationName> = Operations[N] extends { body: infer B extends z.ZodType }
  ? z.output<B>
  : undefined;
export type ParsedQueryOf<N extends OperationName> = Operations[N] extends {
  query: infer Q extends z.ZodType;
}
  ? z.output<Q>
  : undefined;
export type ParsedParamsOf<N extends OperationName> = Operations[N] extends {
  params: infer P extends z.ZodType;
}
  ? z.output<P>
  : undefined;

export const otherPaths = {
  events: '/api/v1/events',
  openapi: '/api/v1/openapi.json',
  health: '/healthz',
  calendar: '/calendar/{token}.ics',
} as const;
