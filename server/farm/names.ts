/**
 * Names of people: what is written in a log has to say who it was, so no two may look alike.
 *
 * Spaces and composition as in PRECIS's profile for nicknames (RFC 8266 §2.1); nothing invisible; scripts mixed only as
 * in the "highly restrictive" profile of Unicode's security mechanisms (UTS #39 §5.2). Letters of other scripts that look
 * like Latin ones are compared as these (a short part of the table of UTS #39 §4, from memory).
 */

/** Recommended scripts (UAX #31, table 5; from memory): a name is of one of them, or of one of the mixtures. */
const scripts =
  'Arabic Armenian Bengali Cyrillic Devanagari Ethiopic Georgian Greek Gujarati Gurmukhi Hebrew Kannada Khmer Lao Latin Malayalam Myanmar Oriya Sinhala Tamil Telugu Thaana Thai Tibetan'.split(
    ' ',
  );
const mixtures = [
  ['Latin', 'Han', 'Hiragana', 'Katakana'],
  ['Latin', 'Han', 'Bopomofo'],
  ['Latin', 'Han', 'Hangul'],
];
const oneOf = [...scripts.map((script) => [script]), ...mixtures].map(
  (together) =>
    new RegExp(
      `^(?:[\\p{sc=Common}\\p{sc=Inherited}]|${together.map((script) => `\\p{scx=${script}}`).join('|')})*$`,
      'u',
    ),
);
/** Controls, invisible format characters, private use, unassigned, line separators. */
const unseen = /[\p{C}\p{Zl}\p{Zp}\p{Default_Ignorable_Code_Point}]/u;

/** Each of the first looks like the one at the same place in the second. */
const lookalikes = [
  ['АВЕЅІЈКМНОРСТУХаеѕіјорсухһԁԛԝ', 'ABESIJKMHOPCTYXaesijopcyxhdqw'],
  ['ΑΒΕΖΗΙΚΜΝΟΡΤΥΧαικνορτυχ', 'ABEZHIKMNOPTYXaikvoptux'],
  ['0', 'O'],
] as const;
const looksLike = new Map(
  lookalikes.flatMap(([from, to]) => {
    const latin = [...to];
    return [...from].map((letter, i) => [letter, latin[i] ?? letter] as const);
  }),
);

/** One space for every run of spaces, letters composed. */
export const plainName = (name: string): string =>
  name
    .normalize('NFC')
    .replace(/\p{Zs}+/gu, ' ')
    .trim();

/** One for all ways of writing a name that lead to the same account: the store tells no capitals from small letters. */
export const accountKey = (name: string): string => plainName(name).toLowerCase();

/** Why a name won't do for a new person, in a few words; null where it will. */
export function nameProblem(name: string): string | null {
  if (unseen.test(name)) return 'it has characters that can’t be seen';
  if (!/\p{L}/u.test(name)) return 'it has no letter';
  if (!oneOf.some((script) => script.test(name))) return 'it mixes letters of different scripts';
  return null;
}

/** The same for names that are hard to tell apart by eye. */
export const lookOf = (name: string): string =>
  [...plainName(name).normalize('NFKC')]
    .map((letter) => looksLike.get(letter) ?? letter)
    // A capital I, a small l and the digit are one stroke in many founts.
    .map((letter) => (letter === 'I' || letter === '1' || letter === '|' ? 'l' : letter))
    .join('')
    .toLowerCase();
