/** Sends a long answer piece by piece, no faster than the reader takes it. */
import { pipeline } from 'node:stream/promises';
import { Readable } from 'node:stream';
import type { Response } from 'express';

export interface Download {
  /** Media type, with its charset where it is text. */
  readonly type: string;
  /** Suggested file name: letters, digits, `.`, `-` and `_` only. */
  readonly file: string;
}

/** Any text as part of a file name. */
export const fileSafe = (text: string): string =>
  text
    .normalize('NFKD')
    .replace(/[^A-Za-z0-9._-]+/g, '-')
    .replace(/^[-.]+|-+$/g, '')
    .slice(0, 80) || 'export';

/** Gathers small pieces, so that a row is not a write of its own. */
function* gathered(pieces: Iterable<string>, size = 64 * 1024): Generator<string> {
  let text = '';
  for (const piece of pieces) {
    text += piece;
    if (text.length >= size) {
      yield text;
      text = '';
    }
  }
  if (text !== '') yield text;
}

/** Resolves when everything is sent, or the reader has gone away. */
export async function sendDownload(
  response: Response,
  download: Download,
  pieces: Iterable<string>,
): Promise<void> {
  response.set({
    'Content-Type': download.type,
    'Content-Disposition': `attachment; filename="${download.file}"`,
    'Cache-Control': 'no-store',
  });
  try {
    await pipeline(Readable.from(gathered(pieces), { objectMode: true, highWaterMark: 1 }), response);
  } catch (error) {
    // A reader who hangs up is no fault; anything else has to break the answer off visibly, not end it as if whole.
    if (!response.destroyed) response.destroy();
    if (!isHangUp(error)) throw error;
  }
}

const isHangUp = (error: unknown): boolean =>
  error instanceof Error && 'code' in error && error.code === 'ERR_STREAM_PREMATURE_CLOSE';
