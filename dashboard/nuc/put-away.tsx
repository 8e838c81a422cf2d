/** A nuc that was sold, united or emptied leaves the lists; its records stay, and it can come back. */
import type { NucDetail } from '../../server/contract/nucs.ts';
import { call } from '../api/client.ts';
import { nucsChanged } from '../state/farm.ts';
import { ActionButton } from '../parts/action-button.tsx';

export function PutAway({ one: { hive } }: { one: NucDetail }) {
  const isAway = hive.retiredAt !== undefined;
  return (
    <div class="row-acts">
      <ActionButton
        run={async () => {
          await call('changeHive', { params: { id: hive.id }, body: { retired: !isAway } });
          await nucsChanged(hive.id);
        }}
      >
        {isAway ? 'Put it back on the lists' : 'Take it off the lists'}
      </ActionButton>
      <span class="soft">
        {isAway
          ? 'Off the lists; its records stay in Review.'
          : 'Sold, united or empty? Its records stay in Review.'}
      </span>
    </div>
  );
}
