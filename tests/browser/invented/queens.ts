/** Which nuc gets which queen first: one is split and waits, one is not split yet, one goes without. */
import type { ParsedQueryOf, ResponseOf } from '../../../server/contract/index.ts';
import type { Farm } from './farm.ts';

type Queens = ResponseOf<'getQueens'>;
type NucRow = Queens['items'][number]['nucs'][number];

const addDays = (date: string, days: number): string =>
  new Date(Date.parse(`${date}T00:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10);

export function queensOf(farm: Farm, query: ParsedQueryOf<'getQueens'>): Queens {
  const arrival = farm.arrivals.find((one) => one.id === 'a2');
  const [first, second, third] = [...farm.details.values()];
  if (!arrival || !first || !second || !third) return { items: [] };
  const comesOn = query.arrival === arrival.id && query.expected ? query.expected : arrival.expected;
  const late = comesOn > arrival.expected;
  const row = (one: typeof first, over: Partial<NucRow>): NucRow => ({
    nucId: one.hive.id,
    nucName: one.hive.name,
    siteName: one.siteName,
    introductionId: one.introductionId ?? '',
    order: null,
    hangOn: null,
    why: '',
    comesOn,
    waitsUntil: null,
    late: false,
    choices: [],
    splitOn: addDays(comesOn, -7),
    splitMade: false,
    splitFollows: true,
    ...over,
  });
  const waitsUntil = addDays(arrival.expected, 2);
  return {
    items: [
      {
        arrivalId: arrival.id,
        name: arrival.name,
        comesOn,
        living: 2,
        over: 0,
        advice: ['1 nuc goes without: name another delivery for it, or see what it can do.'],
        nucs: [
          row(first, {
            order: 1,
            hangOn: comesOn,
            why: 'of those that wait, workers may lay in it first',
            waitsUntil,
            splitMade: true,
            splitFollows: false,
            late,
            choices: late
              ? [
                  {
                    kind: 'wait',
                    fits: false,
                    on: waitsUntil,
                    text: 'It can’t wait for her, only until 21 days without a queen: from then on workers may lay.',
                  },
                  {
                    kind: 'brood-frame',
                    fits: true,
                    on: addDays(comesOn, -9),
                    text: 'Give a frame of open brood from a healthy colony.',
                  },
                ]
              : [],
          }),
          row(second, {
            order: 2,
            hangOn: comesOn,
            why: 'it is not split yet, so it comes after those that are',
            choices: [
              {
                kind: 'move-split',
                fits: true,
                on: addDays(comesOn, -7),
                text: 'Make the split a week before she comes: nothing is lost by waiting.',
              },
            ],
          }),
          row(third, {
            why: 'there are fewer queens than nucs, and the others can wait less long',
            splitFollows: false,
          }),
        ],
      },
    ],
  };
}
