/** The modules of a QR code (ISO/IEC 18004) as the path of a drawing. Pure. */
import { encode } from 'uqr';

/** Light modules around it, as the standard wants them. */
const quiet = 4;

/** The dark modules of each row, joined where they touch. `size`: modules along a side, with the light ones. */
export function pathOf(text: string): { readonly size: number; readonly d: string } {
  const { size, data } = encode(text, { ecc: 'M', border: quiet });
  let d = '';
  for (const [y, row] of data.entries()) {
    for (let x = 0; x < size; x += 1) {
      if (row[x] !== true) continue;
      const from = x;
      while (row[x + 1] === true) x += 1;
      d += `M${String(from)} ${String(y)}h${String(x - from + 1)}v1H${String(from)}z`;
    }
  }
  return { size, d };
}
