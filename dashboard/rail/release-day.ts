import type { Rail } from '../../server/contract/nucs.ts';

/** The day of the release, done or else planned; undefined where there is none in sight. */
export function releaseDay(rail: Pick<Rail, 'bars'>): number | undefined {
  const open = rail.bars.find((bar) => bar.kind === 'hands-off');
  return open?.fromDay;
}
