/** Introductions and the field log. */
import * as z from 'zod';
import * as introductions from '../introductions.ts';
import { byId, type Operation } from './operation.ts';

export const introductionOperations = {
  openIntroduction: {
    method: 'post',
    path: '/nucs/{id}/introductions',
    role: 'keeper',
    summary: 'Open an introduction in a nuc',
    params: byId,
    body: introductions.introductionInputSchema,
    response: introductions.introductionSchema,
  },
  changeIntroduction: {
    method: 'patch',
    path: '/introductions/{id}',
    role: 'keeper',
    summary: 'Move a planned split, name its delivery, or call it off',
    params: byId,
    body: introductions.introductionPatchSchema,
    response: introductions.introductionSchema,
  },
  listIntroductions: {
    method: 'get',
    path: '/nucs/{id}/introductions',
    role: 'viewer',
    summary: 'A nuc’s introductions, newest first',
    params: byId,
    response: z.object({ items: z.array(introductions.introductionSchema) }),
  },
  postLog: {
    method: 'post',
    path: '/log',
    role: 'helper',
    summary: 'Write facts and corrections into the field log; the same entry twice is stored once',
    body: introductions.logPostSchema,
    response: introductions.logPostedSchema,
  },
} as const satisfies Record<string, Operation>;
