/** What somebody does about an alert, as the life cycle takes it. */
import type { ParsedBodyOf } from '../../contract/index.ts';
import { msOf } from '../../farm/wire.ts';
import type { Act } from '../../rules/engine/alert-state.ts';

export function actOf(action: ParsedBodyOf<'actOnAlert'>, by: string, nowMs: number): Act {
  switch (action.action) {
    case 'seen':
      return { type: 'seen', nowMs, by, ...(action.note === undefined ? {} : { note: action.note }) };
    case 'put-off':
      return { type: 'put-off', nowMs, by, untilMs: msOf(action.until) };
    case 'close':
      return { type: 'close', nowMs, by, found: action.found };
    case 'reopen':
      return { type: 'reopen', nowMs, by };
  }
}
