/** What became of a delivery's queens, by the log of a nuc. */
import { ofKind } from '../../introduction/log/effective-facts.ts';
import type { Begun } from './waiting-nuc.ts';

/** Queens that came alive and died, or flew off, before they were hung. */
function lostInHand({ facts }: Begun['state']): readonly string[] {
  const lost: string[] = [];
  let atHand: string | null = null;
  for (const { fact } of facts) {
    if (fact.kind === 'queen-arrived') atHand = fact.condition === 'dead' ? null : fact.queenId;
    else if (fact.kind === 'cage-hung') atHand = null;
    else if (atHand !== null && (fact.kind === 'queen-dead' || fact.kind === 'queen-escaped')) {
      lost.push(atHand);
      atHand = null;
    }
  }
  return lost;
}

/** Queens that went into another nuc: they are told of there. */
function givenAway({ facts }: Begun['state']): ReadonlySet<string> {
  const given = new Set<string>();
  let hung: string | null = null;
  for (const { fact } of facts) {
    if (fact.kind === 'cage-hung') {
      hung = fact.queenId;
      given.delete(hung);
    } else if (fact.kind === 'cage-taken-out' && fact.forAnotherNuc === true && hung !== null)
      given.add(hung);
  }
  return given;
}

/** Queens that were hung in a nuc and not given to another, whatever became of them, wait there to be hung, or were lost before. */
export function taken({ state }: Begun): readonly string[] {
  const { facts, queen } = state;
  const atHand = queen.where === 'arrived' || queen.where === 'taken-out' ? queen.queenId : null;
  const hung = ofKind(facts, 'cage-hung').map(({ fact }) => fact.queenId);
  const given = givenAway(state);
  return [
    ...new Set([
      ...hung.filter((id) => !given.has(id)),
      ...(atHand === null ? [] : [atHand]),
      ...lostInHand(state),
    ]),
  ];
}

/** Queens that came dead. */
export const deadInLog = ({ state }: Begun): readonly string[] =>
  ofKind(state.facts, 'queen-arrived').flatMap(({ fact }) =>
    fact.condition === 'dead' ? [fact.queenId] : [],
  );
