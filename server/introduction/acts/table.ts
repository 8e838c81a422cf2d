/** Every act of an introduction, one row an act, in the order in which they are usually made. */
import type { ActRow } from './act.ts';
import type { ActKind } from './draft.ts';
import * as afterRelease from './rows/after-release.ts';
import * as beginning from './rows/beginning.ts';
import * as cage from './rows/cage.ts';
import * as cuts from './rows/cuts.ts';
import * as looks from './rows/looks-after-cut.ts';
import * as disease from './rows/disease.ts';
import * as herBrood from './rows/her-brood.ts';
import * as letOutEarly from './rows/let-out-early.ts';
import * as remedies from './rows/remedies.ts';
import * as testFrame from './rows/test-frame.ts';

export const acts: readonly ActRow[] = [
  beginning.split,
  beginning.queenArrives,
  beginning.findOldQueen,
  beginning.lookThrough,
  cuts.earlyCut,
  testFrame.testFrameIn,
  testFrame.testFrameOut,
  testFrame.takeQueenOut,
  cuts.cutCells,
  looks.secondLook,
  looks.oneMoreLook,
  cage.addBees,
  cage.hangCage,
  cage.watchCage,
  cage.takeCageOut,
  remedies.giveBrood,
  cage.openCandy,
  letOutEarly.closeCandy,
  cage.freeQueen,
  afterRelease.cutAfterRelease,
  afterRelease.lookAgain,
  afterRelease.lookForQueen,
  herBrood.checkSealedBrood,
  herBrood.graft,
  herBrood.unite,
  disease.callInspector,
];

const byKind: ReadonlyMap<ActKind, ActRow> = new Map(acts.map((row) => [row.kind, row]));

/** Throws for a kind that has no row: the table has one for each. */
export function rowOf(kind: ActKind): ActRow {
  const row = byKind.get(kind);
  if (!row) throw new Error(`no row for the act ${kind}`);
  return row;
}
