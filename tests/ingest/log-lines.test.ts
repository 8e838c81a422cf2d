/** What goes wrong is written down, and can't fill the disk with lines. */
import { expect, test } from 'vitest';
import { makeStatus } from '../../ingest/status.ts';

function written() {
  let nowMs = 1_780_000_000_000;
  const lines: string[] = [];
  const write = (_details: object, sentence: string): void => {
    lines.push(sentence);
  };
  const logger = { info: write, warn: write, error: write };
  const status = makeStatus('embedded', () => nowMs, logger);
  return {
    lines,
    status,
    pass: (ms: number) => {
      nowMs += ms;
    },
  };
}

test('the same complaint is written once a minute', () => {
  const { lines, status, pass } = written();
  for (let second = 0; second < 180; second += 1) {
    status.quarantined('welcomb/scale-1/weight', 5, 'it is no number');
    pass(1000);
  }
  expect(lines).toHaveLength(3);
});

test('a device that thinks of a new topic each time gets a hundred lines a minute and no more', () => {
  const { lines, status, pass } = written();
  for (let n = 0; n < 10_000; n += 1) {
    status.quarantined(`welcomb/scale-${String(n)}/weight`, 5, 'it is no number');
    pass(12);
  }
  expect(lines).toHaveLength(200);
  // Others are heard again as soon as it is quiet, also when the clock was set back meanwhile.
  pass(-3_600_000);
  status.warn('A device was refused.');
  expect(lines.at(-1)).toBe('A device was refused.');
});
