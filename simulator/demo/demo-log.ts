/**
 * The demo keeper's field log: what was written down at each visit that the simulated keeper made. Entries
 * have the shape of the server's log as plain JSON; tests hold them to its schema.
 */
import type { VisitPurpose } from '../happenings.ts';
import type { NucSketch } from './demo-run.ts';
import type { PlannedNuc } from './demo-plan.ts';
import { hourMs, minuteMs } from '../place.ts';

export interface DemoFact {
  readonly id: string;
  readonly introductionId: string;
  readonly happenedAtMs: number;
  readonly writtenAtMs: number;
  readonly by: string;
  readonly note?: string;
  readonly type: 'fact';
  readonly fact: { readonly kind: string } & Readonly<Record<string, unknown>>;
}

const dayMs = 24 * hourMs;

export const introductionIdOf = (nuc: PlannedNuc): string => `demo-introduction-${nuc.key}`;

/** Entries of one nuc up to `nowMs`, in the order of the visits. */
export function demoFacts(planned: PlannedNuc, nuc: NucSketch, nowMs: number): DemoFact[] {
  const facts: DemoFact[] = [];
  const write = (happenedAtMs: number, fact: DemoFact['fact'], note?: string): void => {
    if (happenedAtMs > nowMs) return;
    facts.push({
      id: `demo-fact-${planned.key}-${String(facts.length + 1).padStart(2, '0')}`,
      introductionId: introductionIdOf(planned),
      happenedAtMs,
      writtenAtMs: happenedAtMs + 6 * minuteMs,
      by: 'demo keeper',
      ...(note ? { note } : {}),
      type: 'fact',
      fact,
    });
  };
  write(nuc.splitMs, splitMade(nuc), 'Old queen seen on her comb and left at the parent stand.');
  write(nuc.splitMs + 10 * minuteMs, { kind: 'moved', metres: 15 });
  const queenId = planned.queen.key;
  const visits = nuc.timeline.happenings.filter((happening) => happening.kind === 'visit');
  for (const { atMs, purpose } of visits) {
    const day = Math.round((atMs - nuc.splitMs) / (1440 * minuteMs));
    for (const [offset, fact] of atVisit(purpose, day, atMs, nuc, queenId).entries()) {
      write(atMs + offset * minuteMs, fact);
    }
  }
  if (planned.day >= 20) {
    const acceptedAtMs = (visits.at(-1)?.atMs ?? nowMs) + 20 * minuteMs;
    write(acceptedAtMs, { kind: 'outcome', outcome: 'accepted' });
  }
  return facts;
}

function splitMade({ parameters: p }: NucSketch): DemoFact['fact'] {
  const quarters = (frames: number) => Math.round(frames * 4) / 4;
  return {
    kind: 'split-made',
    framesOfBees: quarters(p.framesOfBees),
    framesOfSealedBrood: quarters(p.framesOfSealedBrood),
    framesOfOpenBrood: quarters(p.framesOfOpenBrood),
    framesOfStores: quarters(p.storesG / 2500),
    oldQueen: 'seen-in-parent',
    cellsAlreadyThere: 'none',
  };
}

/** What is written after a visit of that purpose. */
function atVisit(
  purpose: VisitPurpose,
  day: number,
  atMs: number,
  nuc: NucSketch,
  queenId: string,
): readonly DemoFact['fact'][] {
  const complete = { everyFrameChecked: true, beesShakenOff: true };
  const none = { open: 0, sealed: 0, emerged: 0, tornDown: 0 };
  if (purpose === 'cut-cells') {
    const first = day < 9;
    const cut = {
      kind: 'cells-cut',
      cells: first ? { open: 2, sealed: 7, emerged: 0, tornDown: 3 } : none,
      ...complete,
      youngestBrood: first ? 'old-larvae' : 'sealed-only',
      temperament: 'calm',
    };
    const hung = day === nuc.introduction.cageHung ? hangCage(queenId) : [];
    return [cut, ...hung, ...openCandy(day, nuc)];
  }
  if (purpose === 'hang-cage') return hangCage(queenId);
  if (purpose === 'open-candy') return openCandy(day, nuc);
  if (purpose === 'look') {
    const atOf = (event: string) => nuc.timeline.events.find(({ kind }) => kind === event)?.atMs ?? Infinity;
    const layingMs = atOf('queen-laying');
    const goneMs = Math.min(atOf('queen-killed'), atOf('absconded'));
    // Nothing is laid any more; a virgin's first eggs come long after.
    const eggsAreHers = layingMs < goneMs;
    const looked = {
      kind: 'looked-for-queen',
      cageEmpty: true,
      // A virgin runs and hides; what is seen is the queen that was brought, while she lives.
      queenSeen: atMs < goneMs,
      // A day's eggs are seen; brood of hers is sealed from nine days on.
      eggsSeen: eggsAreHers && atMs >= layingMs + dayMs,
      sealedWorkerBroodSeen: eggsAreHers && atMs >= layingMs + 9.5 * dayMs,
      cells: { ...none, emerged: atMs >= atOf('virgin-emerged') ? 1 : 0 },
      behaviour: 'calm',
    };
    return [looked];
  }
  return [];
}

const hangCage = (queenId: string): readonly DemoFact['fact'][] => [
  { kind: 'queen-arrived', queenId, condition: 'alive', attendantsAlive: 8 },
  { kind: 'cage-hung', queenId, candyEnd: 'closed' },
];

const openCandy = (day: number, nuc: NucSketch): readonly DemoFact['fact'][] =>
  day === nuc.introduction.candyOpened
    ? [
        { kind: 'cage-checked', behaviour: 'feeding', queenAlive: true },
        { kind: 'candy-opened', plug: 'whole', behaviour: 'feeding' },
      ]
    : [];
