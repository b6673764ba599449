// Looks at a built site in one warm browser, straight from the disk as on a USB stick:
//
//   node browser.mjs SITE [--all] [--prints=FOLDER]
//
// Every page: errors in the console, requests that leave the folder, sideways scroll
// at 320 px, text cut off when spaced out, axe at 1280 px. Samples of each kind of
// page (all with --all): axe at 360 and 1280 px, light and dark, lines of drawings in
// colours forced by a reader too, and a walk with the Tab key at both widths. Tables keep
// their roles where they stack. Sheets: one paper page on Letter and on A4. Writes one JSON
// object to stdout; exit 0 when the looking worked, whatever it found.
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { launch } from './chromium.mjs';
import { axeRun, clipped, drawn, focusWalk, printed, sideways, tableRoles } from './look.mjs';
import { pagesOf, samplesOf } from './site.mjs';

const [, , dir, ...options] = process.argv;
const prints = options.find((o) => o.startsWith('--prints='))?.slice('--prints='.length); // keeps samples of what sheets look like printed
const site = resolve(dir);
const base = `${pathToFileURL(site).href}/`;
const pages = pagesOf(site);
const samples = options.includes('--all') ? new Set(pages) : samplesOf(pages);
const report = { pages: pages.length, kinds: new Set(pages.map((p) => p.kind)).size, samples: samples.size, axe_runs: 0, focus_stops: 0, prints: 0, undecided: {} };
const found = new Map(); // a problem -> where it was seen

const browser = await launch();
const queue = [...pages];
await Promise.all([worker(), worker()]);
await browser.close();
const problems = [...found.values()].map((p) => ({ ...p, at: [...p.at].sort().join('; ') }));
problems.sort((a, b) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1));
process.stdout.write(JSON.stringify({ ...report, problems }, null, 1) + '\n');

async function worker() {
  const context = await browser.newContext({ viewport: { width: 320, height: 720 } });
  await context.route(/^https?:/, (route) => route.abort());
  const tab = await context.newPage();
  let current;
  const say = (check, at, wrong) => wrong.forEach((what) => note(current.path, check, at, what));
  tab.on('console', (message) => message.type() === 'error' && say('console', 'loading', [message.text()]));
  tab.on('pageerror', (error) => say('console', 'loading', [String(error)]));
  tab.on('request', (request) => request.url().startsWith(base) || request.url().startsWith('data:') || say('request', 'loading', [`asks for ${request.url()}`]));
  tab.on('requestfailed', (request) => say('request', 'loading', [`cannot load ${request.url()}`]));
  while ((current = queue.shift())) {
    await look(tab, current, say);
  }
  await context.close();
}

// note keeps a problem once, with every width and colour it was seen at.
function note(page, check, at, what) {
  const key = JSON.stringify([page, check, what]);
  if (!found.has(key)) found.set(key, { page, check, what, at: new Set() });
  found.get(key).at.add(at);
}

async function look(tab, page, say) {
  await size(tab, 320, 'light');
  await tab.goto(page.url, { waitUntil: 'load' });
  say('sideways', '320 px', await sideways(tab));
  await size(tab, 360, 'light');
  say('spacing', '360 px', await clipped(tab));
  for (const width of [360, 1280]) {
    for (const scheme of ['light', 'dark']) {
      if (!samples.has(page) && !(width === 1280 && scheme === 'light')) continue;
      await size(tab, width, scheme);
      const axe = await axeRun(tab);
      report.axe_runs++;
      say('axe', `${width} px, ${scheme}`, axe.problems);
      say('drawn', `${width} px, ${scheme}`, await drawn(tab));
      for (const rule of axe.undecided) report.undecided[rule] = (report.undecided[rule] ?? 0) + 1;
    }
    if (width === 360) say('roles', '360 px', await tableRoles(tab));
    if (!samples.has(page)) continue;
    await size(tab, width, 'light');
    await tab.goto(page.url, { waitUntil: 'load' });
    const walk = await focusWalk(tab);
    report.focus_stops += walk.stops;
    say('focus', `${width} px`, walk.problems);
  }
  if (samples.has(page)) {
    await tab.emulateMedia({ forcedColors: 'active' });
    say('drawn', 'forced colours', await drawn(tab));
    await tab.emulateMedia({ forcedColors: 'none' });
  }
  if (!/\/sheet(-both)?\.html$/.test(page.kind)) return;
  for (const paper of ['Letter', 'A4']) {
    const keep = prints && samples.has(page) ? `${prints}/${page.path.replaceAll('/', '+')}.${paper.toLowerCase()}.pdf` : undefined;
    const count = await printed(tab, paper, keep);
    report.prints++;
    if (count !== 1) say('print', paper, [`takes ${count} paper pages`]);
  }
}

async function size(tab, width, colorScheme) {
  await tab.setViewportSize({ width, height: 720 });
  await tab.emulateMedia({ colorScheme });
}
