/** How this device shows the page. */
import { Choice } from '../parts/fields.tsx';
import { applyTheme, theme } from '../state/preferences.ts';

export function Appearance() {
  return (
    <section class="card" aria-label="On this device">
      <h2>On this device</h2>
      <Choice
        label="Light or dark"
        value={theme.value}
        onValue={applyTheme}
        options={[
          { value: 'as-device', words: 'as the device' },
          { value: 'light', words: 'light' },
          { value: 'dark', words: 'dark' },
        ]}
      />
    </section>
  );
}
