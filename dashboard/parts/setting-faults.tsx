/** In sight on every page while a stored setting can't be read. */
import { hashFor } from '../route.ts';
import { me } from '../state/session.ts';

export function SettingFaults() {
  const faults = me.value?.settingFaults ?? [];
  if (faults.length === 0) return null;
  return (
    <div class="setting-faults" role="alert">
      {faults.map(({ name, problem, effect, stored }) => (
        <p key={name}>
          The setting <b>{name}</b> can’t be read{stored === undefined ? '' : ` (stored: ${stored})`}:{' '}
          {problem}. {effect} <a href={hashFor('settings')}>Settings</a>
        </p>
      ))}
    </div>
  );
}
