/** Draws the page's own icon as PNG for devices that install no SVG: `npm run icons`, after the icon was changed. */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { launch } from './chromium.ts';

const folder = fileURLToPath(new URL('../../dashboard/public/', import.meta.url));
const drawing = readFileSync(`${folder}icon.svg`, 'utf8');
const paper = '#f4f1e8';
/** What a mask may cut off lies outside the middle four fifths (W3C, Web Application Manifest, maskable purpose). */
const pictures = [
  { name: 'icon-192.png', size: 192, share: 1, ground: 'transparent' },
  { name: 'icon-512.png', size: 512, share: 1, ground: 'transparent' },
  { name: 'icon-maskable-512.png', size: 512, share: 0.8, ground: paper },
  { name: 'apple-touch-icon.png', size: 180, share: 1, ground: paper },
];

const browser = await launch();
const page = await browser.newPage();
for (const { name, size, share, ground } of pictures) {
  await page.setViewportSize({ width: size, height: size });
  const side = `width:${String(size * share)}px;margin:${String((size * (1 - share)) / 2)}px`;
  await page.setContent(
    `<style>body{margin:0;background:${ground}}svg{display:block;${side}}</style>${drawing}`,
  );
  await page.screenshot({ path: `${folder}${name}`, omitBackground: true });
}
await browser.close();
