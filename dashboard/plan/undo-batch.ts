import { call } from '../api/client.ts';
import { nucsChanged } from '../state/farm.ts';

/** Takes nucs back that were only planned; rejects with the reason where something was logged in one. */
export async function undoBatch(nucIds: readonly string[]): Promise<void> {
  await call('undoBatch', { body: { nucIds: [...nucIds] } });
  await nucsChanged();
}
