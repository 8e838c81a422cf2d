/** The trade's words, each explained in one line where it first shows. */

export const glossary = {
  nuc: 'Nucleus colony: a few frames of bees and brood in a small box.',
  split: 'Frames of bees and brood taken from a colony and stood on their own, without a queen.',
  'parent colony': 'The colony that the split was taken from; the old queen stays there.',
  stand: 'What a hive stands on; foragers come home to the place, not to the box.',
  'frame of bees': 'A comb covered with bees on both sides; strength is counted in these.',
  'sealed brood': 'Pupae under wax caps. It eats nothing, but has to be kept at 33 to 36 °C (91 to 97 °F).',
  'open brood': 'Eggs and larvae. A queen can be raised only from the youngest larvae.',
  'queen cell': 'The long, hanging cell in which bees raise a queen.',
  'emergency cell': 'A queen cell built over a worker larva after the queen was lost.',
  virgin:
    'A young queen, not yet mated. Loose in the nuc she kills the bought queen, or the bees do it for her.',
  'laying workers':
    'Workers that lay after long queenlessness: several eggs in a cell, drones from worker cells.',
  'caged queen': 'The bought queen in her small cage, which the bees can feed and smell her through.',
  attendants: 'The few workers that travel in the cage with the queen.',
  'candy plug':
    'The plug of sugar candy that closes the cage; once it is uncovered the bees eat through to the queen.',
  balling: 'Bees pressed around a queen in a tight ball, to kill her.',
  queenright: 'With a laying queen.',
  queenless: 'Without a queen.',
  'hopelessly queenless':
    'Without a queen, a cell, a virgin or a larva young enough to raise one from: the state in which a bought queen is welcome.',
  drift: 'Foragers of the split fly home to the parent’s stand and do not come back.',
  robbing: 'Bees of other colonies carrying off the stores.',
  absconding: 'All bees leaving the box together.',
  swarm: 'A queen leaving with most of the bees.',
  stores: 'Honey and pollen in the combs.',
  grafting: 'Lifting young larvae into cell cups to raise queens from them.',
  'cell cups': 'Small cups in which grafted larvae are raised as queens.',
  'test frame':
    'A frame with eggs and young larvae, put in for a day or two: cells on it mean that there is no queen.',
  'night weight': 'The weight before dawn, when every bee is at home.',
  tare: 'The weight of the empty box, frames and floor.',
  release:
    'The day on which the queen is let out: the candy end is opened, or the mesh lifted from over her.',
  topic: 'The address under which a sensor sends its readings, such as welcomb/scale-3/weight.',
  quarantine: 'Messages that nobody could read, kept with the reason until you say what they mean.',
} as const;

export type Word = keyof typeof glossary;

/** What a word means is common practice; the figures in some of them come from these. */
const sources: Partial<Readonly<Record<Word, string>>> = {
  'sealed brood': 'Stabentheiner et al. 2010; Becher et al. 2009',
  'open brood': 'Mussen et al. 1987 (larvae of up to 4 days)',
};
/** Of every word that names no other. */
export const usualSource = 'common practice';
export const sourceOf = (word: Word): string => sources[word] ?? usualSource;

/** Those that mean nothing else in an ordinary sentence: they explain themselves wherever they stand. */
const plainWords = [
  'frame of bees',
  'sealed brood',
  'open brood',
  'queen cell',
  'emergency cell',
  'virgin',
  'laying workers',
  'caged queen',
  'attendants',
  'candy plug',
  'balling',
  'hopelessly queenless',
  'queenright',
  'queenless',
  'parent colony',
  'robbing',
  'absconding',
  'test frame',
  'night weight',
] as const satisfies readonly Word[];
const anyOfThem = new RegExp(`\\b(${plainWords.join('|')})(?=s?\\b)`, 'i');

/** A sentence cut at its first word of the trade; no word where there is none. */
export function firstTerm(
  sentence: string,
):
  | { readonly before: string; readonly word: Word; readonly shown: string; readonly after: string }
  | undefined {
  const found = anyOfThem.exec(sentence);
  if (!found) return undefined;
  const shown = found[0];
  return {
    before: sentence.slice(0, found.index),
    word: shown.toLowerCase() as Word,
    shown,
    after: sentence.slice(found.index + shown.length),
  };
}
