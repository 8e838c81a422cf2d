/** The field log of one nuc in words: newest first; what was corrected stays to be read. */
import type { NucDetail } from '../../contract/nucs.ts';
import { iso } from '../../farm/wire.ts';
import { dayPosition } from '../../introduction/calendar.ts';
import { liveCorrections, says } from '../../introduction/log/effective-facts.ts';
import type { Correction, IntroductionMethod, LogEntry } from '../../introduction/log/facts.ts';
import type { NucAnalysis } from '../../watch/nuc-analysis.ts';
import { dayOf, type Say } from '../../words/phrase.ts';
import { rounded } from '../rounded.ts';
import { factWords } from './fact-words.ts';

export function logLines({ log, state, site, introduction }: NucAnalysis, say: Say): NucDetail['log'] {
  const day0Ms = state?.day0Ms ?? null;
  const here = introduction?.id;
  const correctionOf = inPlaceOf(log, here);
  const corrections = new Set(log.flatMap(({ type, id }) => (type === 'correction' ? [id] : [])));
  const text = (entry: LogEntry): string => {
    if (entry.type === 'fact')
      return [factWords(entry.fact, state?.setup.method, say), entry.note].filter(Boolean).join(' — ');
    return corrections.has(entry.corrects) && !says(entry)
      ? 'Correction taken back'
      : correctionWords(entry, here, state?.setup.method, say);
  };
  return log
    .toSorted((a, b) => b.happenedAtMs - a.happenedAtMs || b.writtenAtMs - a.writtenAtMs)
    .map((entry) => {
      const { by, broughtIn } = correctionOf(entry);
      const corrected = by ?? broughtIn;
      return {
        entry,
        text: text(entry),
        happenedAt: iso(entry.happenedAtMs),
        day: day0Ms === null ? 0 : rounded(dayPosition(day0Ms, entry.happenedAtMs, site.timeZone), 2),
        withdrawn: by !== undefined && !says(by),
        ...(corrected && { correctedBy: corrected.id }),
        ...(corrected && !by && { movedHere: true as const }),
      };
    });
}

/** What was corrected of an entry. */
interface Corrected {
  /** Counts in its place; undefined where the entry itself does. */
  readonly by?: Correction | undefined;
  /** Only brought it here from another nuc. */
  readonly broughtIn?: Correction | undefined;
}

function inPlaceOf(log: readonly LogEntry[], here: string | undefined): (entry: LogEntry) => Corrected {
  const live = liveCorrections(log);
  const corrections = log
    .filter((entry) => entry.type === 'correction')
    .toSorted((a, b) => a.writtenAtMs - b.writtenAtMs);
  const onlyBringsIn = ({ moveTo, replacement, replacementHappenedAtMs }: Correction): boolean =>
    moveTo === here && moveTo !== undefined && !replacement && replacementHappenedAtMs === undefined;
  return ({ type, id }) => {
    if (type === 'correction') return { by: corrections.findLast(({ corrects }) => corrects === id) };
    const all = live.get(id);
    return { by: all?.findLast((one) => !onlyBringsIn(one)), broughtIn: all?.findLast(onlyBringsIn) };
  };
}

function correctionWords(
  { replacement, replacementHappenedAtMs: atMs, moveTo }: Correction,
  here: string | undefined,
  method: IntroductionMethod | undefined,
  say: Say,
): string {
  if (replacement) {
    const day = atMs === undefined ? '' : ` for ${say(dayOf(atMs))}`;
    return `Correction${day}: ${factWords(replacement, method, say)}`;
  }
  if (moveTo !== undefined)
    return moveTo === here ? 'Correction: belongs to this nuc' : 'Correction: belongs to another nuc';
  return atMs === undefined ? 'Correction: withdrawn' : 'Correction: happened at another time';
}
