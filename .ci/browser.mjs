// Looks at a built site in one warm browser, straight from the disk as on a USB stick:
//
//   node browser.mjs SITE [--all] [--prints=FOLDER]
//
// Every page: errors in the console, requests that leave the folder; at 320 px sideways
// scroll, text cut off when spaced out and roles of tables, which stack there; axe at
// 1280 px. Samples of each kind of page (all with --all): axe at 320 and 1280 px, its
// rules of colour in dark too, lines of drawings also in colours forced by a reader, and
// a walk with the Tab key at both widths, nothing cut off at the right edge in print.
// Sheets: one paper page on Letter and on A4.
// Writes one JSON object to stdout; exit 0 when the looking worked, whatever it found.
//
// Several tabs work at once, since a tab waits for the browser's other processes now
// and then; the largest pages go first, so that none is left over at the end.
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { launch } from './chromium.mjs';
import { axeRun, clipped, drawn, focusWalk, printed, sideways, tableRoles, withTools } from './look.mjs';
import { pagesOf, samplesOf } from './site.mjs';

const [, , dir, ...options] = process.argv;
const prints = options.find((o) => o.startsWith('--prints='))?.slice('--prints='.length); // keeps samples of what sheets look like printed
const site = resolve(dir);
const base = `${pathToFileURL(site).href}/`;
const pages = pagesOf(site);
const samples = options.includes('--all') ? new Set(pages) : samplesOf(pages);
const report = { pages: pages.length, kinds: new Set(pages.map((p) => p.kind)).size, samples: samples.size, axe_runs: 0, colour_runs: 0, focus_stops: 0, prints: 0, undecided: {} };
const found = new Map(); // a problem -> where it was seen

const [phone, wide] = [320, 1280];
const paper = Math.floor(((210 - 2 * 16) / 25.4) * 96); // px of A4, the narrower paper, within margins of 16 mm
const tabs = 4;
const browser = await launch();
const queue = pages.toSorted((a, b) => b.bytes - a.bytes);
const contexts = await Promise.all(Array.from({ length: tabs }, worker));
report.cpu_seconds = await cpuSeconds();
await Promise.all(contexts.map((context) => context.close()));
await browser.close();
const problems = [...found.values()].map((p) => ({ ...p, at: [...p.at].sort().join('; ') }));
problems.sort((a, b) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1));
process.stdout.write(JSON.stringify({ ...report, problems }, null, 1) + '\n');

// worker looks at pages in a tab of its own until none is left. The tab has no network:
// what a page asks of another host is told, and fails.
async function worker() {
  const context = await browser.newContext({ viewport: { width: phone, height: 720 }, offline: true });
  await withTools(context);
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
  return context;
}

// cpuSeconds is the processor time of the browser's processes and of this program: on a
// machine with other work it tells more than the time that passed.
async function cpuSeconds() {
  const session = await browser.newBrowserCDPSession();
  const { processInfo } = await session.send('SystemInfo.getProcessInfo');
  const own = process.cpuUsage();
  return Math.round(processInfo.reduce((sum, one) => sum + one.cpuTime, (own.user + own.system) / 1e6));
}

// note keeps a problem once, with every width and colour it was seen at.
function note(page, check, at, what) {
  const key = JSON.stringify([page, check, what]);
  if (!found.has(key)) found.set(key, { page, check, what, at: new Set() });
  found.get(key).at.add(at);
}

// look does all checks of one width, then those of the other. Most pages are loaded at
// the width that the page before them left, so that each costs one change of width.
async function look(tab, page, say) {
  const closely = samples.has(page);
  const widths = tab.viewportSize().width === phone ? [phone, wide] : [wide, phone];
  for (const width of widths) {
    await tab.setViewportSize({ width, height: 720 });
    if (closely || width === widths[0]) await tab.goto(page.url, { waitUntil: 'load' }); // a walk begins at the top
    if (closely) await lookClosely(tab, width, say);
    else if (width === wide) await seen(tab, `${width} px, light`, 'every rule', say);
    if (width === wide) continue;
    say('sideways', `${width} px`, await sideways(tab));
    say('roles', `${width} px`, await tableRoles(tab));
    say('spacing', `${width} px`, await clipped(tab));
  }
  if (closely) {
    await tab.emulateMedia({ forcedColors: 'active' });
    say('drawn', 'forced colours', await drawn(tab));
    await tab.emulateMedia({ forcedColors: 'none' });
  }
  const sheet = /\/sheet(-both)?\.html$/.test(page.kind);
  if (closely && !sheet) {
    await tab.setViewportSize({ width: paper, height: 720 });
    await tab.emulateMedia({ media: 'print' });
    say('print', 'A4', await sideways(tab));
    await tab.emulateMedia({ media: null }); // else the sheets printed next would be as on a screen
  }
  if (!sheet) return;
  for (const format of ['Letter', 'A4']) {
    const keep = prints && closely ? `${prints}/${page.path.replaceAll('/', '+')}.${format.toLowerCase()}.pdf` : undefined;
    const count = await printed(tab, format, keep);
    report.prints++;
    if (count !== 1) say('print', format, [`takes ${count} paper pages`]);
  }
}

// lookClosely walks through a page with the Tab key, then looks at it in light and dark.
// Dark changes colours and nothing else, so only the rules of colour run once more.
async function lookClosely(tab, width, say) {
  const walk = await focusWalk(tab);
  report.focus_stops += walk.stops;
  say('focus', `${width} px`, walk.problems);
  await seen(tab, `${width} px, light`, 'every rule', say);
  await tab.emulateMedia({ colorScheme: 'dark' });
  await seen(tab, `${width} px, dark`, 'rules of colour', say);
  await tab.emulateMedia({ colorScheme: 'light' });
}

// seen is axe and the drawings of a page as the tab shows it now.
async function seen(tab, at, rules, say) {
  const axe = await axeRun(tab, rules);
  report[rules === 'every rule' ? 'axe_runs' : 'colour_runs']++;
  say('axe', at, axe.problems);
  for (const rule of axe.undecided) report.undecided[rule] = (report.undecided[rule] ?? 0) + 1;
  say('drawn', at, await drawn(tab));
}
