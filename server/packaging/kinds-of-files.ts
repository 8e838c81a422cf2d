/**
 * The table by which the web server names what it sends knows 2,500 kinds of files, each an object in memory. The bundle
 * takes those that the page, its exports and its requests are made of.
 */

interface Kind {
  readonly extensions?: readonly string[];
}

const extensions: ReadonlySet<string> = new Set(
  'html js mjs css json map svg png ico woff2 webmanifest txt md csv ics xml gz'.split(' '),
);
/** Bodies of requests that have no file of their own. */
const forms: ReadonlySet<string> = new Set(['application/x-www-form-urlencoded', 'multipart/form-data']);

export const kindsSent = <T extends Kind>(all: Readonly<Record<string, T>>): Record<string, T> =>
  Object.fromEntries(
    Object.entries(all).filter(
      ([type, { extensions: its = [] }]) => forms.has(type) || its.some((one) => extensions.has(one)),
    ),
  );
