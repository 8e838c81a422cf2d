/** MQTT topic filters (MQTT 3.1.1 and 5, §4.7), with names for what a wildcard stood for: `shed/+sensor/weight`. */

/** A level of our own spelling: `+name` is `+` whose match gets a name. */
const namedLevel = /^\+[A-Za-z][A-Za-z0-9]*$/;

/** `+` occupies a whole level, `#` is the last one; no null character, at most 65,535 bytes (§4.7.1, §4.7.3). */
export function isTopicFilter(filter: string): boolean {
  if (filter === '' || filter.includes('\0') || new TextEncoder().encode(filter).length > 65_535)
    return false;
  const levels = filter.split('/');
  return levels.every((level, at) => {
    if (level === '#') return at === levels.length - 1;
    return level === '+' || (!level.includes('+') && !level.includes('#'));
  });
}

/** The filter to subscribe with: names taken off. */
export const plainFilter = (named: string): string =>
  named
    .split('/')
    .map((level) => (namedLevel.test(level) ? '+' : level))
    .join('/');

export const isNamedFilter = (named: string): boolean => isTopicFilter(plainFilter(named));

export const captureNames = (named: string): readonly string[] =>
  named.split('/').flatMap((level) => (namedLevel.test(level) ? [level.slice(1)] : []));

/** What the names stood for, where the topic matches; undefined where it doesn't. */
export function matchTopic(named: string, topic: string): ReadonlyMap<string, string> | undefined {
  const wanted = named.split('/');
  const given = topic.split('/');
  // A wildcard in front does not reach topics of the server itself (§4.7.2).
  const wild = wanted[0] === '#' || wanted[0]?.startsWith('+') === true;
  if (wild && topic.startsWith('$')) return undefined;
  const captures = new Map<string, string>();
  for (const [at, level] of wanted.entries()) {
    // `#` also stands for the parent level, so it matches when nothing is left.
    if (level === '#') return captures;
    const here = given[at];
    if (here === undefined) return undefined;
    if (namedLevel.test(level)) captures.set(level.slice(1), here);
    else if (level !== '+' && level !== here) return undefined;
  }
  return wanted.length === given.length ? captures : undefined;
}
