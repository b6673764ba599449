// Takes pictures of a built site, to be looked at by people:
//
//   node pictures.mjs SITE OUT
//
// The largest page of each kind at 360 and 1280 px, the wide one in dark too, whole
// length; the wall sheets as printed by the browser on Letter and A4.
import { mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { launch } from './chromium.mjs';
import { pagesOf } from './site.mjs';

const [, , dir, out] = process.argv;
mkdirSync(out, { recursive: true });
const largest = new Map();
for (const page of pagesOf(resolve(dir))) {
  if (page.bytes > (largest.get(page.kind)?.bytes ?? 0)) largest.set(page.kind, page);
}

const browser = await launch();
const tab = await browser.newPage();
for (const page of largest.values()) {
  const name = join(out, page.path.replaceAll('/', '_').replace(/\.html$/, ''));
  for (const [width, colorScheme] of [[360, 'light'], [1280, 'light'], [1280, 'dark']]) {
    await tab.setViewportSize({ width, height: 800 });
    await tab.emulateMedia({ colorScheme });
    await tab.goto(page.url);
    await tab.screenshot({ path: `${name}-${width}-${colorScheme}.png`, fullPage: true });
  }
  if (!page.kind.endsWith('/sheet.html')) continue;
  await tab.emulateMedia({ colorScheme: 'light' });
  for (const format of ['Letter', 'A4']) await tab.pdf({ path: `${name}-${format}.pdf`, format });
}
await browser.close();
