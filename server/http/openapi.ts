/** The description of the API (OpenAPI 3.1), made from the schemas that validate it. */
import * as z from 'zod';
import { problemSchema } from '../contract/common.ts';
import type { Operation, Role } from '../contract/index.ts';
import { operations, otherPaths } from '../contract/index.ts';

type JsonObject = Record<string, unknown>;

function schemaOf(schema: z.ZodType, io: 'input' | 'output'): JsonObject {
  const { $schema: _dialect, ...rest } = z.toJSONSchema(schema, { io, unrepresentable: 'any' });
  return rest;
}
const json = (schema: JsonObject): JsonObject => ({ content: { 'application/json': { schema } } });
const problem = { $ref: '#/components/responses/Problem' };

function parametersOf(operation: Pick<Operation, 'params' | 'query'>): JsonObject[] {
  const path = operation.params ? schemaOf(operation.params, 'input') : {};
  const query = operation.query ? schemaOf(operation.query, 'input') : {};
  const list = (place: 'path' | 'query', object: JsonObject): JsonObject[] => {
    const required = z.array(z.string()).catch([]).parse(object['required']);
    const properties = z.record(z.string(), z.looseObject({})).catch({}).parse(object['properties']);
    return Object.entries(properties).map(([name, schema]) => ({
      name,
      in: place,
      required: place === 'path' || required.includes(name),
      schema,
    }));
  };
  return [...list('path', path), ...list('query', query)];
}

const roleNotes: Readonly<Record<Role, string>> = {
  anyone: 'Anybody may ask.',
  viewer: 'For everybody who is signed in, and API keys of any scope.',
  helper: 'For helpers and keepers, and API keys with the scope `log` or `all`.',
  keeper: 'For keepers, and API keys with the scope `all`.',
};

function describe(name: string, operation: Operation): JsonObject {
  const parameters = parametersOf(operation);
  return {
    operationId: name,
    summary: operation.summary,
    description: roleNotes[operation.role],
    ...(operation.role === 'anyone' ? { security: [] } : {}),
    ...(parameters.length > 0 ? { parameters } : {}),
    ...(operation.body
      ? { requestBody: { required: true, ...json(schemaOf(operation.body, 'input')) } }
      : {}),
    responses: {
      ...(operation.response
        ? { '200': { description: 'Done', ...json(schemaOf(operation.response, 'output')) } }
        : { '204': { description: 'Done' } }),
      default: problem,
    },
  };
}

const text = (type: string, description: string): JsonObject => ({
  description,
  content: { [type]: { schema: { type: 'string' } } },
});

/** Paths that are no operations of the contract: streams, files and the description itself. */
export interface ExtraPath {
  readonly path: string;
  readonly method: 'get' | 'post';
  readonly summary: string;
  readonly role: Role;
  /** Media type of the answer, and of the body where there is one. */
  readonly type: string;
  readonly consumes?: string;
  /** Where the answer is JSON of a known form. */
  readonly response?: z.ZodType;
  readonly query?: z.ZodType;
  readonly params?: z.ZodObject;
}

const fixedPaths: readonly ExtraPath[] = [
  {
    path: otherPaths.events,
    method: 'get',
    role: 'viewer',
    type: 'text/event-stream',
    summary: 'Server-sent events: which things changed (each a JSON object with a `type`)',
  },
  {
    path: otherPaths.openapi,
    method: 'get',
    role: 'anyone',
    type: 'application/json',
    summary: 'This description',
  },
  {
    path: otherPaths.health,
    method: 'get',
    role: 'anyone',
    type: 'application/json',
    summary: 'Whether the server is ready (200), or why not (503)',
  },
];
const calendarPath: ExtraPath = {
  path: otherPaths.calendar,
  method: 'get',
  role: 'anyone',
  type: 'text/calendar',
  summary: 'Calendar feed (RFC 5545) for the holder of its secret address',
  params: z.object({ token: z.string() }),
};

function describeExtra(extra: ExtraPath): JsonObject {
  const parameters = parametersOf(extra);
  return {
    summary: extra.summary,
    description: roleNotes[extra.role],
    ...(extra.role === 'anyone' ? { security: [] } : {}),
    ...(parameters.length > 0 ? { parameters } : {}),
    ...(extra.consumes === undefined
      ? {}
      : { requestBody: { required: true, content: { [extra.consumes]: { schema: { type: 'string' } } } } }),
    responses: {
      '200': extra.response
        ? { description: 'Done', ...json(schemaOf(extra.response, 'output')) }
        : text(extra.type, 'Done'),
      default: problem,
    },
  };
}

/** @param extras export paths and other files, which describe themselves */
export function openApi(version: string, basePath: string, extras: readonly ExtraPath[] = []): JsonObject {
  const paths: Record<string, JsonObject> = {};
  for (const [name, operation] of Object.entries<Operation>(operations)) {
    const path = `/api/v1${operation.path}`;
    paths[path] = { ...paths[path], [operation.method]: describe(name, operation) };
  }
  for (const extra of [...fixedPaths, calendarPath, ...extras]) {
    paths[extra.path] = { ...paths[extra.path], [extra.method]: describeExtra(extra) };
  }
  return {
    openapi: '3.1.0',
    info: { title: 'Welcomb', version, license: { name: 'MIT', identifier: 'MIT' } },
    servers: [{ url: basePath === '' ? '/' : basePath }],
    security: [{ session: [] }, { token: [] }],
    paths,
    components: {
      securitySchemes: {
        session: { type: 'apiKey', in: 'cookie', name: 'welcomb_session' },
        token: { type: 'http', scheme: 'bearer' },
      },
      responses: {
        Problem: {
          description: 'What was wrong (RFC 9457)',
          content: { 'application/problem+json': { schema: schemaOf(problemSchema, 'output') } },
        },
      },
    },
  };
}
