/** Splits a stream of bytes into lines of bounded length. */
import { UserError } from '../../user-error.ts';

const longestLine = 2_000_000;

/** Throws `UserError` for a line that is too long or not UTF-8. */
export async function* textLines(bytes: AsyncIterable<Uint8Array>): AsyncGenerator<string> {
  const decoder = new TextDecoder('utf-8', { fatal: true });
  let rest = '';
  try {
    for await (const piece of bytes) {
      const lines = (rest + decoder.decode(piece, { stream: true })).split('\n');
      rest = lines.pop() ?? '';
      if (rest.length > longestLine) throw new UserError('too-large', 'A line of this file is too long.');
      for (const line of lines) yield line.endsWith('\r') ? line.slice(0, -1) : line;
    }
    rest += decoder.decode();
  } catch (error) {
    if (error instanceof TypeError) throw new UserError('invalid-input', 'This file is not UTF-8 text.');
    throw error;
  }
  if (rest !== '') yield rest;
}
