/** One figure with another value, while the tests load it; no file is changed. */
import type { Plugin } from 'vite';

export interface FigureChange {
  readonly file: string;
  /** A regular expression for what stands before the figure. It matches once in the file. */
  readonly after: string;
  readonly from: string;
  readonly to: string;
}

/**
 * @param json a `FigureChange`; undefined changes nothing.
 * @throws where the figure does not stand once in its file.
 */
export function changedFigure(json: string | undefined): Plugin {
  const change = json === undefined ? null : (JSON.parse(json) as FigureChange);
  return {
    name: 'changed-figure',
    enforce: 'pre',
    transform(code, id) {
      if (!change || !id.endsWith(`/${change.file}`)) return null;
      const place = new RegExp(`(${change.after})${change.from.replaceAll('.', '\\.')}(?![\\w.])`, 'g');
      const places = [...code.matchAll(place)].length;
      if (places !== 1)
        throw new Error(
          `${change.file}: “${change.after}${change.from}” stands ${String(places)} times, not once`,
        );
      return { code: code.replace(place, `$1${change.to}`), map: null };
    },
  };
}
