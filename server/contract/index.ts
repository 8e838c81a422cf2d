/**
 * The HTTP contract: every operation once, with the schemas that validate what comes in and describe what goes
 * out. The server registers its routes from this table, `openapi.json` is generated from it, and the dashboard's
 * client takes its types from it.
 */
import * as z from 'zod';
import * as alerts from './alerts.ts';
import { idText } from './common.ts';
import * as nucs from './nucs.ts';
import * as places from './places.ts';
import * as plan from './plan.ts';
import * as review from './review.ts';
import * as sensors from './sensors.ts';
import * as settings from './settings.ts';

/** Who may call: anybody, a viewer (reads), a helper (logs visits, answers alerts), a keeper (everything). */
export type Role = 'anyone' | 'viewer' | 'helper' | 'keeper';

export interface Operation {
  readonly method: 'get' | 'post' | 'put' | 'patch' | 'delete';
  /** Below `/api/v1`, with `{name}` for path parameters. */
  readonly path: string;
  readonly role: Role;
  readonly summary: string;
  readonly params?: z.ZodObject;
  readonly query?: z.ZodType;
  readonly body?: z.ZodType;
  /** Absent: 204, no content. */
  readonly response?: z.ZodType;
}

const byId = z.object({ id: idText });
const byNumber = z.object({ id: z.coerce.number().int().positive() });
const byName = z.object({ name: z.string().min(1).max(120) });

export const operations = {
  me: {
    method: 'get',
    path: '/me',
    role: 'anyone',
    summary: 'Who is signed in and what is set up',
    response: settings.meSchema,
  },
  setPassword: {
    method: 'post',
    path: '/password',
    role: 'anyone',
    summary: 'First run: the keeper’s name and password',
    body: settings.firstPasswordSchema,
    response: settings.meSchema,
  },
  changePassword: {
    method: 'post',
    path: '/password/change',
    role: 'viewer',
    summary: 'A new password for the person who asks',
    body: settings.passwordChangeSchema,
    response: settings.meSchema,
  },
  signIn: {
    method: 'post',
    path: '/session',
    role: 'anyone',
    summary: 'Sign in',
    body: settings.signInSchema,
    response: settings.meSchema,
  },
  signOut: { method: 'delete', path: '/session', role: 'anyone', summary: 'Sign out' },

  listSites: {
    method: 'get',
    path: '/sites',
    role: 'viewer',
    summary: 'Sites',
    response: places.sitesSchema,
  },
  addSite: {
    method: 'post',
    path: '/sites',
    role: 'keeper',
    summary: 'Add a site',
    body: places.siteInputSchema.extend({ id: idText.optional() }),
    response: places.siteSchema,
  },
  changeSite: {
    method: 'put',
    path: '/sites/{id}',
    role: 'keeper',
    summary: 'Change a site',
    params: byId,
    body: places.siteInputSchema,
    response: places.siteSchema,
  },

  listNucs: {
    method: 'get',
    path: '/nucs',
    role: 'viewer',
    summary: 'Every nuc with its rail and what is due',
    query: nucs.nucsQuerySchema,
    response: nucs.nucsSchema,
  },
  getNuc: {
    method: 'get',
    path: '/nucs/{id}',
    role: 'viewer',
    summary: 'One nuc: gates, plan, log, signals',
    params: byId,
    response: nucs.nucDetailSchema,
  },
  getNucChart: {
    method: 'get',
    path: '/nucs/{id}/chart',
    role: 'viewer',
    summary: 'What a chart of a given width needs, evidence included',
    params: byId,
    query: nucs.chartQuerySchema,
    response: nucs.chartSchema,
  },
  addHive: {
    method: 'post',
    path: '/hives',
    role: 'keeper',
    summary: 'Add a nuc or a parent colony',
    body: places.hiveInputSchema.extend({ id: idText.optional() }),
    response: places.hiveSchema,
  },
  listHives: {
    method: 'get',
    path: '/hives',
    role: 'viewer',
    summary: 'Nucs and parent colonies',
    response: z.object({ items: z.array(places.hiveSchema) }),
  },
  changeHive: {
    method: 'patch',
    path: '/hives/{id}',
    role: 'keeper',
    summary: 'Change a nuc or parent colony',
    params: byId,
    body: places.hivePatchSchema,
    response: places.hiveSchema,
  },

  listHiveVisits: {
    method: 'get',
    path: '/hives/{id}/visits',
    role: 'viewer',
    summary: 'Visits to a hive outside any introduction, newest first',
    params: byId,
    response: places.hiveVisitsSchema,
  },
  logHiveVisit: {
    method: 'post',
    path: '/hives/{id}/visits',
    role: 'helper',
    summary: 'Log a visit to any hive, also to one without an introduction',
    params: byId,
    body: places.hiveVisitInputSchema,
    response: places.hiveVisitSchema,
  },
  withdrawHiveVisit: {
    method: 'delete',
    path: '/hives/{id}/visits/{visitId}',
    role: 'helper',
    summary: 'A visit that was logged did not happen',
    params: z.object({ id: idText, visitId: idText }),
  },

  openIntroduction: {
    method: 'post',
    path: '/nucs/{id}/introductions',
    role: 'keeper',
    summary: 'Open an introduction in a nuc',
    params: byId,
    body: nucs.introductionInputSchema,
    response: nucs.introductionSchema,
  },
  changeIntroduction: {
    method: 'patch',
    path: '/introductions/{id}',
    role: 'keeper',
    summary: 'Move a planned split, name its delivery, or call it off',
    params: byId,
    body: nucs.introductionPatchSchema,
    response: nucs.introductionSchema,
  },
  listIntroductions: {
    method: 'get',
    path: '/nucs/{id}/introductions',
    role: 'viewer',
    summary: 'A nuc’s introductions, newest first',
    params: byId,
    response: z.object({ items: z.array(nucs.introductionSchema) }),
  },
  postLog: {
    method: 'post',
    path: '/log',
    role: 'helper',
    summary: 'Write facts and corrections into the field log; the same entry twice is stored once',
    body: nucs.logPostSchema,
    response: nucs.logPostedSchema,
  },

  listChannels: {
    method: 'get',
    path: '/channels',
    role: 'viewer',
    summary: 'Every channel with its newest reading',
    response: sensors.channelsSchema,
  },
  getReadings: {
    method: 'get',
    path: '/channels/{id}/readings',
    role: 'viewer',
    summary: 'Readings of a channel, oldest first',
    params: byNumber,
    query: sensors.readingsQuerySchema,
    response: sensors.readingsSchema,
  },
  forgetChannels: {
    method: 'post',
    path: '/channels/forget',
    role: 'keeper',
    summary: 'Forget channels that were never assigned, with all their readings',
    body: sensors.forgetChannelsSchema,
    response: sensors.forgottenChannelsSchema,
  },
  listCalibrations: {
    method: 'get',
    path: '/channels/{id}/calibrations',
    role: 'viewer',
    summary: 'Calibrations of a channel',
    params: byNumber,
    response: sensors.calibrationsSchema,
  },
  addCalibration: {
    method: 'post',
    path: '/channels/{id}/calibrations',
    role: 'keeper',
    summary: 'Calibrate from an instant on',
    params: byNumber,
    body: sensors.calibrationInputSchema,
    response: sensors.calibrationSchema,
  },
  assign: {
    method: 'post',
    path: '/assignments',
    role: 'keeper',
    summary: 'Say where a channel stands from an instant on',
    body: places.assignmentInputSchema,
    response: places.assignmentSchema,
  },
  changeAssignment: {
    method: 'patch',
    path: '/assignments/{id}',
    role: 'keeper',
    summary: 'End or move the start of an assignment',
    params: byNumber,
    body: places.assignmentPatchSchema,
    response: places.assignmentSchema,
  },
  listQuarantine: {
    method: 'get',
    path: '/quarantine',
    role: 'viewer',
    summary: 'Messages nobody understood, with the reason',
    response: sensors.quarantineSchema,
  },
  dropQuarantined: {
    method: 'delete',
    path: '/quarantine/{id}',
    role: 'keeper',
    summary: 'Throw a quarantined message away',
    params: byNumber,
  },
  listMappings: {
    method: 'get',
    path: '/mappings',
    role: 'viewer',
    summary: 'Mappings',
    response: sensors.mappingsSchema,
  },
  putMapping: {
    method: 'put',
    path: '/mappings/{id}',
    role: 'keeper',
    summary: 'Save a mapping',
    params: byId,
    body: sensors.mappingSchema.omit({ id: true }),
    response: sensors.mappingSchema,
  },
  importMappings: {
    method: 'post',
    path: '/mappings/import',
    role: 'keeper',
    summary: 'Take in the mappings of a saved file: all of them, or none where one is wrong',
    body: sensors.mappingFileSchema,
    response: sensors.mappingsTakenInSchema,
  },
  deleteMapping: {
    method: 'delete',
    path: '/mappings/{id}',
    role: 'keeper',
    summary: 'Delete a mapping',
    params: byId,
  },
  tryMapping: {
    method: 'post',
    path: '/mappings/try',
    role: 'helper',
    summary: 'What a mapping makes of a message, nothing stored',
    body: sensors.mappingTrySchema,
    response: sensors.mappingTriedSchema,
  },
  listDevices: {
    method: 'get',
    path: '/devices',
    role: 'keeper',
    summary: 'Devices that may publish to the embedded broker',
    response: sensors.devicesSchema,
  },
  addDevice: {
    method: 'post',
    path: '/devices',
    role: 'keeper',
    summary: 'Let a device publish',
    body: sensors.deviceInputSchema,
    response: sensors.deviceSchema,
  },
  deleteDevice: {
    method: 'delete',
    path: '/devices/{name}',
    role: 'keeper',
    summary: 'Shut a device out',
    params: byName,
  },

  listAlerts: {
    method: 'get',
    path: '/alerts',
    role: 'viewer',
    summary: 'Alerts, most urgent first',
    query: alerts.alertsQuerySchema,
    response: alerts.alertsSchema,
  },
  actOnAlert: {
    method: 'post',
    path: '/alerts/{id}/actions',
    role: 'helper',
    summary: 'Seen, put off, close with what was found, re-open',
    params: z.object({ id: z.string().min(1).max(200) }),
    body: alerts.alertActionSchema,
    response: alerts.alertSchema,
  },
  listEvaluations: {
    method: 'get',
    path: '/nucs/{id}/evaluations',
    role: 'viewer',
    summary: 'Why, and why not: every rule’s last evaluation for a nuc',
    params: byId,
    response: alerts.evaluationsSchema,
  },

  listArrivals: {
    method: 'get',
    path: '/arrivals',
    role: 'viewer',
    summary: 'Queens on order and arrived',
    response: plan.arrivalsSchema,
  },
  addArrival: {
    method: 'post',
    path: '/arrivals',
    role: 'keeper',
    summary: 'Add a delivery of queens',
    body: plan.arrivalInputSchema,
    response: plan.arrivalSchema,
  },
  changeArrival: {
    method: 'put',
    path: '/arrivals/{id}',
    role: 'keeper',
    summary: 'Change a delivery; open plans follow',
    params: byId,
    body: plan.arrivalInputSchema,
    response: plan.arrivalSchema,
  },
  getPlan: {
    method: 'get',
    path: '/plan',
    role: 'viewer',
    summary: 'Work by day and site',
    query: plan.planQuerySchema,
    response: plan.planSchema,
  },
  getQueens: {
    method: 'get',
    path: '/plan/queens',
    role: 'viewer',
    summary: 'Which nuc gets which delivery’s queens first, and what the others can do',
    query: plan.queensQuerySchema,
    response: plan.queensSchema,
  },
  previewBatch: {
    method: 'post',
    path: '/plan/preview',
    role: 'helper',
    summary: 'Dates for a batch, nothing stored',
    body: plan.batchInputSchema,
    response: plan.batchPreviewSchema,
  },
  createBatch: {
    method: 'post',
    path: '/plan/batches',
    role: 'keeper',
    summary: 'Make the nucs of a batch and open their introductions',
    body: plan.batchInputSchema,
    response: plan.batchCreatedSchema,
  },
  undoBatch: {
    method: 'post',
    path: '/plan/batches/undo',
    role: 'keeper',
    summary: 'Remove nucs that were only planned: all of them, or none where something was logged',
    body: plan.batchUndoSchema,
    response: plan.batchUndoneSchema,
  },
  setUnavailable: {
    method: 'put',
    path: '/plan/unavailable',
    role: 'keeper',
    summary: 'Days on which the keeper can’t work',
    body: plan.unavailableSchema,
    response: plan.unavailableSchema,
  },
  calendarLink: {
    method: 'post',
    path: '/plan/calendar-link',
    role: 'viewer',
    summary: 'Secret address of the calendar feed for the person who asks',
    response: plan.calendarLinkSchema,
  },

  reviewBatch: {
    method: 'get',
    path: '/review/batch',
    role: 'viewer',
    summary: 'A batch aligned on the split or the release, with its own band',
    query: review.reviewQuerySchema,
    response: review.batchReviewSchema,
  },
  outcomes: {
    method: 'get',
    path: '/review/outcomes',
    role: 'viewer',
    summary: 'Outcomes by group with Wilson intervals',
    query: review.outcomesQuerySchema,
    response: review.outcomesSchema,
  },
  replay: {
    method: 'post',
    path: '/review/replay',
    role: 'helper',
    summary: 'What the rules would have raised over a span',
    body: review.replayInputSchema,
    response: review.replaySchema,
  },

  getFarm: {
    method: 'get',
    path: '/settings/farm',
    role: 'viewer',
    summary: 'Farm settings',
    response: settings.farmSettingsSchema,
  },
  putFarm: {
    method: 'put',
    path: '/settings/farm',
    role: 'keeper',
    summary: 'Change farm settings',
    body: settings.farmPutSchema,
    response: settings.farmSettingsSchema,
  },
  listLimits: {
    method: 'get',
    path: '/settings/limits',
    role: 'viewer',
    summary: 'Rule limits in force for the farm, a site or a nuc',
    query: settings.limitsQuerySchema,
    response: settings.limitsSchema,
  },
  putLimit: {
    method: 'put',
    path: '/settings/limits',
    role: 'keeper',
    summary: 'Set one limit, or null to go back',
    body: settings.limitPutSchema,
    response: settings.limitsSchema,
  },
  listChanges: {
    method: 'get',
    path: '/settings/changes',
    role: 'viewer',
    summary: 'What was changed, when, by whom',
    response: settings.changesSchema,
  },
  listTellings: {
    method: 'get',
    path: '/settings/tellings',
    role: 'keeper',
    summary: 'Notification channels',
    response: settings.tellingsSchema,
  },
  putTelling: {
    method: 'put',
    path: '/settings/tellings/{id}',
    role: 'keeper',
    summary: 'Save a notification channel',
    params: byId,
    body: settings.tellingSchema.omit({ id: true }),
    response: settings.tellingSavedSchema,
  },
  deleteTelling: {
    method: 'delete',
    path: '/settings/tellings/{id}',
    role: 'keeper',
    summary: 'Delete a notification channel',
    params: byId,
  },
  tryTelling: {
    method: 'post',
    path: '/settings/tellings/{id}/try',
    role: 'keeper',
    summary: 'Send a test message',
    params: byId,
    response: settings.tellingTriedSchema,
  },
  pushKey: {
    method: 'post',
    path: '/settings/push-key',
    role: 'keeper',
    summary: 'The key by which a browser subscribes to push messages; made when it is first asked for',
    response: settings.pushKeySchema,
  },
  listPeople: {
    method: 'get',
    path: '/people',
    role: 'keeper',
    summary: 'People',
    response: settings.peopleSchema,
  },
  addPerson: {
    method: 'post',
    path: '/people',
    role: 'keeper',
    summary: 'Add a person',
    body: settings.personInputSchema,
    response: settings.personSchema,
  },
  deletePerson: {
    method: 'delete',
    path: '/people/{id}',
    role: 'keeper',
    summary: 'Remove a person',
    params: byId,
  },
  listTokens: {
    method: 'get',
    path: '/tokens',
    role: 'keeper',
    summary: 'API tokens',
    response: settings.tokensSchema,
  },
  addToken: {
    method: 'post',
    path: '/tokens',
    role: 'keeper',
    summary: 'Make an API token',
    body: settings.tokenInputSchema,
    response: settings.tokenCreatedSchema,
  },
  deleteToken: {
    method: 'delete',
    path: '/tokens/{id}',
    role: 'keeper',
    summary: 'Revoke a token',
    params: byId,
  },
  audit: {
    method: 'get',
    path: '/audit',
    role: 'keeper',
    summary: 'Who did what',
    response: settings.auditSchema,
  },
  status: {
    method: 'get',
    path: '/status',
    role: 'viewer',
    summary: 'Broker, store, sizes, last backup',
    response: settings.statusSchema,
  },
  backupNow: {
    method: 'post',
    path: '/backup',
    role: 'keeper',
    summary: 'Back up now and verify it',
    response: settings.backupMadeSchema,
  },
  listRestorable: {
    method: 'get',
    path: '/restore',
    role: 'keeper',
    summary: 'Backups that an empty server can bring back',
    response: settings.restorableSchema,
  },
  lookAtBackup: {
    method: 'post',
    path: '/restore/look',
    role: 'keeper',
    summary: 'Check a backup, and say whom it lets in and what it is set to call',
    body: settings.restoreInputSchema,
    response: settings.backupSummarySchema,
  },
  restoreBackup: {
    method: 'post',
    path: '/restore',
    role: 'keeper',
    summary: 'Bring a backup back into an empty server, which then starts again',
    body: settings.restoreInputSchema,
  },
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
