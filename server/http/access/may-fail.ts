/** Notes on the side of a request: with a full disk the page has to go on, so that it can say what is wrong. */
import { StoreUnavailable } from '../../store/errors.ts';

/** Runs a write that nothing rests on; false where the store could not do it. */
export function mayFail(write: () => void): boolean {
  try {
    write();
    return true;
  } catch (error) {
    if (error instanceof StoreUnavailable) return false;
    throw error;
  }
}
