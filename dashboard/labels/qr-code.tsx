/** A QR code drawn as one path: no picture is fetched, and it prints sharp. */
import { pathOf } from './qr-path.ts';

export function QrCode({ text, label }: { text: string; label: string }) {
  const { size, d } = pathOf(text);
  return (
    <svg class="qr" viewBox={`0 0 ${String(size)} ${String(size)}`} role="img" aria-label={label}>
      <path d={d} />
    </svg>
  );
}
