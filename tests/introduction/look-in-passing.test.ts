/** A look for cells where the chance is small enough: made as the nuc is opened anyway, and only where it tells something. */
import { describe } from 'vitest';
import { frame, split, type Entries, type Setup } from './support/conditions.ts';
import { at, facts } from './support/field-log.ts';
import { places } from './support/places.ts';

const cut7 = [at(7), facts.cut({ sealed: 8 })] as const;
const hung = [at(7, 10.5), facts.hung()] as const;
const hungLater = [at(10, 11), facts.hung()] as const;
const clean = [at(10), facts.cut()] as const;
const came = (day: number): Entries[number] => [at(day), facts.arrived()];
const mesh: Setup = { method: 'push-in-cage' };

describe('a look in passing, where the chance is small enough', () => {
  const inPassing = 'The nuc is opened to let her out';
  places('one-more-look', [
    {
      name: 'she hangs since day 7, and could be let out today, the day of the last look',
      log: [split, cut7, hung, clean],
      now: at(10, 12),
      window: null,
    },
    {
      name: 'she was not let out that day: as she is let out',
      log: [split, cut7, hung, clean],
      now: at(11, 12),
      window: '11 00:00 | 11 10:00 | 17 10:30',
      why: inPassing,
    },
    {
      name: 'she hangs since day 10: as she is let out, by the same day',
      log: [split, cut7, clean, hungLater],
      now: at(10, 12),
      window: '12 00:00 | 12 10:00 | 20 11:00',
      why: inPassing,
    },
    {
      name: 'under mesh since day 10: as it is lifted',
      log: [split, cut7, clean, hungLater],
      now: at(10, 12),
      over: mesh,
      window: '13 00:00 | 13 10:00 | 20 11:00',
      why: inPassing,
    },
    {
      name: 'she came on day 12: as she is hung',
      log: [split, cut7, clean, came(12)],
      now: at(12, 12),
      window: '12 00:00 | 12 10:00 | 13 23:59',
      why: 'The nuc is opened to hang her',
    },
    {
      name: 'she came when every cell has opened: a look as she is let out will do',
      log: [split, cut7, clean, came(18)],
      now: at(18, 12),
      window: null,
    },
    {
      name: 'and hangs then: as she is let out',
      log: [split, cut7, clean, came(18), [at(18, 11), facts.hung()]],
      now: at(18, 12),
      window: '20 00:00 | 20 10:00 | 28 10:00',
      why: inPassing,
    },
    {
      name: 'she is not here yet',
      log: [split, cut7, clean],
      now: at(10, 12),
      over: { expectedQueenMs: at(13) },
      window: null,
    },
    {
      name: 'a virgin was seen: she is found first',
      log: [
        split,
        cut7,
        clean,
        hungLater,
        [at(11), facts.inspection({ virginSeen: true, everyFrameChecked: false })],
      ],
      now: at(11, 12),
      window: null,
    },
    {
      name: 'no cell on a test frame: the queen in there is found first',
      log: [split, cut7, clean, hungLater, ...frame(11, 13, 0)],
      now: at(13, 12),
      window: null,
    },
    {
      name: 'workers lay: she is not let out',
      log: [
        split,
        cut7,
        clean,
        hungLater,
        [
          at(11),
          facts.inspection({ severalEggsACell: true, youngestBrood: 'eggs', everyFrameChecked: false }),
        ],
      ],
      now: at(12, 12),
      window: null,
    },
    {
      name: 'cells on a test frame',
      log: [split, cut7, clean, hungLater, ...frame(11, 13, 3)],
      now: at(13, 12),
      window: '12 00:00 | 13 10:00 | 20 11:00',
    },
    {
      name: 'four looks found nothing: another is not worth it',
      log: [split, cut7, hung, clean, [at(11), facts.cut()], [at(12), facts.cut()]],
      now: at(13, 12),
      window: null,
    },
  ]);
});
