/** Which queen goes into which nuc: named from the delivery, changed where it is another. */
import { useState } from 'preact/hooks';
import { Text } from '../parts/fields.tsx';
import type { RememberedNuc } from './remembered-nucs.ts';

interface QueenNamesProps {
  readonly nucs: readonly RememberedNuc[];
  readonly queenOf: (one: RememberedNuc) => string;
  readonly onQueen: (one: RememberedNuc, queen: string) => void;
}

export function QueenNames({ nucs, queenOf, onQueen }: QueenNamesProps) {
  const [changing, setChanging] = useState(false);
  if (changing) {
    return (
      <div class="queen-names">
        {nucs.map((one) => (
          <Text
            key={one.id}
            label={nucs.length === 1 ? 'Queen' : `Queen of ${one.name}`}
            value={queenOf(one)}
            onValue={(queen) => {
              onQueen(one, queen);
            }}
          />
        ))}
      </div>
    );
  }
  return (
    <div class="queen-names row">
      <p>
        {nucs.length === 1 ? 'Queen ' : 'Queens: '}
        {nucs.map((one, i) => (
          <span key={one.id}>
            {i > 0 && ', '}
            {nucs.length > 1 && (
              <>
                <bdi>{one.name}</bdi>{' '}
              </>
            )}
            <b>
              <bdi>{queenOf(one)}</bdi>
            </b>
          </span>
        ))}
      </p>
      <button
        type="button"
        onClick={() => {
          setChanging(true);
        }}
      >
        Change<span class="hidden-words"> the name of the queen</span>
      </button>
    </div>
  );
}
