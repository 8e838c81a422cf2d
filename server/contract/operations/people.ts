/** People, API tokens, and who did what. */
import * as people from '../people.ts';
import { byId, type Operation } from './operation.ts';

export const peopleOperations = {
  listPeople: {
    method: 'get',
    path: '/people',
    role: 'keeper',
    summary: 'People',
    response: people.peopleSchema,
  },
  addPerson: {
    method: 'post',
    path: '/people',
    role: 'keeper',
    summary: 'Add a person',
    body: people.personInputSchema,
    response: people.personSchema,
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
    summary: 'API keys',
    response: people.tokensSchema,
  },
  addToken: {
    method: 'post',
    path: '/tokens',
    role: 'keeper',
    summary: 'Make an API key; the same one sent twice is made once',
    body: people.tokenInputSchema,
    response: people.tokenCreatedSchema,
  },
  deleteToken: {
    method: 'delete',
    path: '/tokens/{id}',
    role: 'keeper',
    summary: 'Take back an API key',
    params: byId,
  },
  audit: {
    method: 'get',
    path: '/audit',
    role: 'keeper',
    summary: 'Who did what',
    response: people.auditSchema,
  },
} as const satisfies Record<string, Operation>;
