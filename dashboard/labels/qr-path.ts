// eslint-disable-next-line @typescript-eslint/triple-slash-reference -- a declaration without exports can’t be imported
/// <reference path="./qrcode-core.d.ts" />
/** The modules of a QR code (ISO/IEC 18004) as the path of a drawing. Pure. */
// The core alone: the package's own entry brings canvas and SVG along.
import { create } from 'qrcode/lib/core/qrcode.js';

/** Light modules around it, as the standard wants them. */
const quiet = 4;

/** The dark modules of each row, joined where they touch. */
export function pathOf(text: string): { readonly size: number; readonly d: string } {
  const { modules } = create(text, { errorCorrectionLevel: 'M' });
  const { size } = modules;
  let d = '';
  for (let y = 0; y < size; y += 1) {
    for (let x = 0; x < size; x += 1) {
      if (modules.get(y, x) === 0) continue;
      const from = x;
      while (x + 1 < size && modules.get(y, x + 1) !== 0) x += 1;
      d += `M${String(from + quiet)} ${String(y + quiet)}h${String(x - from + 1)}v1H${String(from + quiet)}z`;
    }
  }
  return { size: size + 2 * quiet, d };
}
