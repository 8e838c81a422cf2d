/** What the printed sheet adds for nucs in trouble: by site, each thing once, and nothing that can wait. */
import { expect, it } from 'vitest';
import type { AlertDto } from '../../server/contract/alerts.ts';
import { urgentHelp } from '../../dashboard/alerts/urgent-help.ts';

const alert = (over: Partial<AlertDto>): AlertDto => ({
  id: 'a',
  ruleId: 'brood-chilling',
  title: '',
  siteId: 'hill',
  siteName: 'Hill',
  urgency: 'now',
  phase: 'raised',
  todo: '',
  seen: '',
  why: '',
  howSure: '',
  bring: ['insulation'],
  since: '',
  raisedAt: null,
  clearedAt: null,
  nextChangeAt: null,
  seenBy: null,
  putOffUntil: null,
  found: null,
  evidence: null,
  explains: [],
  explainedBy: null,
  history: [],
  subject: { kind: 'nuc', id: 'n1', name: 'Elm 1', nucIds: ['n1'] },
  ...over,
});

it('gathers what is open and presses', () => {
  const elm2: AlertDto['subject'] = { kind: 'nuc', id: 'n2', name: 'Elm 2', nucIds: ['n2'] };
  const help = urgentHelp([
    alert({ id: 'a' }),
    alert({ id: 'b', subject: elm2, bring: ['insulation', 'feed'], urgency: 'today' }),
    alert({ id: 'c', bring: ['battery'], urgency: 'next-visit' }),
    alert({ id: 'd', bring: ['torch'], phase: 'cleared' }),
    alert({ id: 'e', bring: ['torch'], explainedBy: 'a' }),
    alert({ id: 'f', bring: ['torch'], ruleId: 'visit-due' }),
    alert({ id: 'g', siteId: 'brook', siteName: 'Brook', bring: ['strap'] }),
  ]);
  expect(help).toEqual([
    { siteId: 'hill', siteName: 'Hill', bring: ['insulation', 'feed'], names: ['Elm 1', 'Elm 2'] },
    { siteId: 'brook', siteName: 'Brook', bring: ['strap'], names: ['Elm 1'] },
  ]);
});
