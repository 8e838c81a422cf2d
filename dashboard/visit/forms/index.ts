/** What can be written down at the hive, as data: a form for each kind of fact. Nothing in it is answered beforehand. */
import type { FactKind } from '../../api/facts.ts';
import { colony } from './colony.ts';
import type { Form } from './fields.ts';
import { looks } from './looks.ts';
import { queens } from './queens.ts';

export const forms: Readonly<Record<FactKind, Form>> = { ...looks, ...queens, ...colony };

/** In the order in which they are offered. */
export const kindsInOrder: readonly FactKind[] = [
  'cells-cut',
  'cage-hung',
  'candy-opened',
  'looked-for-queen',
  'inspection',
  'cage-checked',
  'queen-arrived',
  'fed',
  'brood-disease',
  'split-made',
  'moved',
  'brood-frame-added',
  'brood-frame-taken',
  'cage-taken-out',
  'balled',
  'queen-removed',
  'queen-escaped',
  'queen-dead',
  'outcome',
  'grafted',
  'gate-overridden',
  'note',
];
