/** What this device remembers for itself: light or dark, and when its owner last looked. */
import { signal } from '@preact/signals';

export type Theme = 'as-device' | 'light' | 'dark';
const themeKey = 'welcomb.theme';

function read(key: string): string | null {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}
export function keep(key: string, value: string): void {
  try {
    localStorage.setItem(key, value);
  } catch {
    // A device that keeps nothing still shows everything.
  }
}
export const recall = read;

const stored = read(themeKey);
export const theme = signal<Theme>(stored === 'light' || stored === 'dark' ? stored : 'as-device');

export function applyTheme(choice: Theme): void {
  theme.value = choice;
  keep(themeKey, choice);
  if (choice === 'as-device') delete document.documentElement.dataset['theme'];
  else document.documentElement.dataset['theme'] = choice;
}
