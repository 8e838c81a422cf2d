/**
 * The fixed calendar of common practice: cut on day 7 and hang her, look again on day 10, open, check on day 17, sealed
 * brood on day 26. A laying queen of one's own is hung when she is there; cells are cut and she is let out the same day,
 * or after four days under the mesh. Whatever is seen on the way changes nothing.
 */
import { Hands } from './hands.ts';
import type { Scene } from './scene.ts';

export interface ByCalendar {
  readonly hands: Hands;
  readonly accepted: boolean;
}

interface Due {
  readonly own: boolean;
  readonly mesh: boolean;
  cut: boolean;
  second: boolean;
  hungOn: number | null;
  openedOn: number | null;
  checks: number[];
}

export function byCalendar(scene: Scene): ByCalendar {
  const hands = new Hands(scene);
  const own = scene.startingPoint === 'own-laying-queen';
  const due: Due = {
    own,
    mesh: scene.method === 'push-in-cage',
    cut: false,
    second: false,
    hungOn: null,
    openedOn: null,
    checks: [],
  };
  const first = scene.begin(10 / 24);
  for (let day = 0; day < 90; day++) {
    hands.atHome(day + 8.5 / 24);
    const t = day + 10 / 24;
    if (day === 0) {
      hands.days.add(0);
      if (first) hands.write(t, first);
      else hands.split(t);
    } else if (!scene.cannotGo(day)) {
      const seen = goOn(hands, due, day, t);
      if (seen !== null) {
        scene.hive.settle(t + 1);
        return { hands, accepted: seen };
      }
    }
  }
  return { hands, accepted: false };
}

/** One day; the end, if it comes to one: whether a laying queen was found. */
function goOn(hands: Hands, due: Due, day: number, t: number): boolean | null {
  const { hive } = hands.scene;
  const inHand = hive.queen?.where === 'in-hand';
  if (due.openedOn !== null && hive.queen?.openedAt != null) return check(hands, due, day, t);
  if (!due.own && day >= 7 && !due.cut) {
    hands.lookForCells(t, true);
    due.cut = true;
  }
  if (inHand && (due.own || due.cut)) {
    hands.hang(t + 0.01);
    due.hungOn = day;
    due.openedOn = hive.queen.openedAt === null ? null : day;
  }
  const caged = hive.queen?.cagedAt != null && hive.queen.where !== 'out';
  const mayOpen = due.hungOn !== null && caged && day >= due.hungOn + (due.mesh ? 4 : due.own ? 0 : 1);
  const looksNow = due.own ? mayOpen : due.cut && day >= 10;
  if (looksNow && !due.second) {
    hands.lookForCells(t + 0.02, true);
    due.second = true;
  }
  if (mayOpen && due.second && hands.watchCage(t + 0.03)) {
    hands.letOut(t + 0.04);
    due.openedOn = hive.queen?.openedAt == null ? null : day;
  }
  return null;
}

function check(hands: Hands, due: Due, day: number, t: number): boolean | null {
  const since = day - (due.openedOn ?? day);
  const last = due.checks.at(-1);
  const wanted =
    last === undefined ? since >= 7 : hands.scene.hive.freeAndWell(t) ? day - last >= 9 : day - last >= 4;
  if (!wanted) return null;
  due.checks.push(day);
  const seen = hands.lookForQueen(t);
  if (seen.sealedWorkerBroodSeen) return true;
  return due.checks.length >= 3 ? seen.eggsSeen && !seen.severalEggsACell : null;
}
