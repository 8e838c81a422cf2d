/** The one alert that a list of nucs has room for is the one that presses most. */
import { expect, it } from 'vitest';
import { mostUrgentFirst } from '../../server/views/nuc/nuc-summary.ts';

it('puts what presses most first, and of two as urgent the newer', () => {
  const alert = (id: string, urgency: 'now' | 'today' | 'next-visit', fromMs: number) => ({
    id,
    urgency,
    fromMs,
  });
  const raised = [
    alert('gone', 'next-visit', 9),
    alert('tonight', 'today', 8),
    alert('chilling', 'now', 3),
    alert('due', 'today', 9),
  ];
  expect(mostUrgentFirst(raised).map(({ id }) => id)).toEqual(['chilling', 'due', 'tonight', 'gone']);
  expect(raised[0]?.id).toBe('gone');
});
