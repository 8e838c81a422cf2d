/** Secrets that the server hands out: sessions, API tokens and calendar links. Only their hashes are kept. */
import { createHash, randomBytes } from 'node:crypto';

/** 256 random bits as base64url: not to be guessed, so a plain hash of it is enough to store. */
export const newSecret = (): string => randomBytes(32).toString('base64url');
export const hashOfSecret = (secret: string): string =>
  createHash('sha256').update(secret).digest('base64url');
/** Ids of people, tokens and the like: 96 random bits. */
export const newId = (): string => randomBytes(12).toString('base64url');
