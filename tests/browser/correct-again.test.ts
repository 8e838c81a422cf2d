/** A correction that was wrong itself, on the page of its nuc. */
import { describe, expect, it } from 'vitest';
import type { LogEntry } from '../../server/introduction/log/facts.ts';
import { chromium, missing } from '../support/programs.ts';
import { phone, visit, type Visit } from './visit.ts';

const context = { viewport: phone, hasTouch: true, isMobile: true };

/** The first cut of n2 was corrected, with or without words of its own. */
function corrected({ fixture: { farm } }: Visit, isWithdrawn: boolean): void {
  const one = farm.details.get('n2')!;
  const line = one.log.find(({ entry }) => entry.type === 'fact' && entry.fact.kind === 'cells-cut')!;
  const { entry } = line;
  if (entry.type !== 'fact') throw new Error('no fact');
  const correction: LogEntry = {
    id: 'correction-1',
    introductionId: entry.introductionId,
    type: 'correction',
    corrects: entry.id,
    happenedAtMs: farm.nowMs(),
    writtenAtMs: farm.nowMs(),
    ...(isWithdrawn ? {} : { replacement: entry.fact, replacementHappenedAtMs: entry.happenedAtMs }),
  };
  const text = isWithdrawn ? 'Correction: withdrawn' : 'Correction for Fri 8 May: Cells cut';
  const now = new Date(farm.nowMs()).toISOString();
  const log = one.log.map((other) =>
    other === line ? { ...line, withdrawn: isWithdrawn, correctedBy: correction.id } : other,
  );
  log.push({ entry: correction, text, happenedAt: now, day: 10, withdrawn: false });
  farm.details.set('n2', { ...one, log });
}
async function openLog({ page }: Visit): Promise<void> {
  await page
    .locator('details')
    .filter({ has: page.getByRole('heading', { name: 'Log', exact: true }) })
    .locator('summary')
    .first()
    .tap();
}
const sent = ({ fixture }: Visit) =>
  fixture.changes.flatMap(({ name, body }) =>
    name === 'postLog' ? (body as { readonly entries: readonly LogEntry[] }).entries : [],
  );

describe.skipIf(missing('Chromium', chromium))('a correction that was wrong', () => {
  it('is written again', async () => {
    const at = await visit({ context });
    corrected(at, false);
    await at.open('#/nucs/n2');
    await openLog(at);
    await at.page.getByRole('button', { name: /^Correct ?: Correction for/ }).tap();
    await at.page.getByRole('button', { name: 'It was right before: take this back' }).waitFor();
    await at.page.getByRole('link', { name: 'Write it again' }).tap();
    await at.page.getByText('Corrected: Cells cut').waitFor();
    await at.page.getByRole('button', { name: 'Keep it' }).tap();
    await expect.poll(() => sent(at)).toMatchObject([{ type: 'correction', corrects: 'correction-1' }]);
    await at.end();
  });

  it('is taken back where it withdrew what did happen', async () => {
    const at = await visit({ context });
    corrected(at, true);
    await at.open('#/nucs/n2');
    await openLog(at);
    await at.page.getByRole('button', { name: /^Correct ?: Correction: withdrawn/ }).tap();
    expect(await at.page.getByRole('link', { name: 'Write it again' }).count()).toBe(0);
    await at.page.getByRole('button', { name: 'It did happen: take this back' }).tap();
    await expect.poll(() => sent(at)).toMatchObject([{ type: 'correction', corrects: 'correction-1' }]);
    expect(sent(at)[0]).not.toHaveProperty('replacement');
    await at.end();
  });
});
