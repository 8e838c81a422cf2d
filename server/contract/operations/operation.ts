/** What an operation of the contract is, and the path parameters that many of them take. */
import * as z from 'zod';
import { idText } from '../common.ts';

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

export const byId = z.object({ id: idText });
export const byNumber = z.object({ id: z.coerce.number().int().positive() });
export const byName = z.object({ name: z.string().min(1).max(120) });
