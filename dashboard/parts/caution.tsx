import type { Caution as Which } from '../words/cautions.ts';
import { cautions } from '../words/cautions.ts';

export function Caution({ about }: { about: Which }) {
  return (
    <p class="caution">
      <b>Caution.</b> {cautions[about]}
    </p>
  );
}
