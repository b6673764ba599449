// Looks at a built site in one warm browser, straight from the disk as on a USB stick:
//
//   node browser.mjs SITE [--all] [--none] [--alone] [--prints=FOLDER]
//
// Every page: errors in the console, requests that leave the folder; at 320 px sideways
// scroll, text cut off when spaced out and roles of tables, which stack there; axe at
// 1280 px. Samples of each kind of page (all with --all, none with --none): axe at 320 and
// 1280 px, its rules of colour in dark too, lines of drawings also in colours forced by a
// reader, and a walk with the Tab key at both widths, nothing cut off at the right edge in
// print. Sheets: one paper page on Letter and on A4.
// Writes one JSON object to stdout; exit 0 when the looking worked, whatever it found.
//
// Several workers look at once (one with --alone), since a tab waits for the browser's other processes now
// and then; samples go first, the largest before the others, so that none is left over
// at the end. Each worker opens the other pages in two tabs: at 320 px each is loaded; at
// 1280 px it takes the place of the page before it in the tab where both find their style
// from the same address, so that axe, once it has run, runs faster.
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { launch } from './chromium.mjs';
import { axeRun, clipped, drawn, focusWalk, printed, show, sideways, tableRoles, withTools } from './look.mjs';
import { pagesOf, placeOf, samplesOf } from './site.mjs';

const [, , dir, ...options] = process.argv;
const prints = options.find((o) => o.startsWith('--prints='))?.slice('--prints='.length); // keeps samples of what sheets look like printed
const site = resolve(dir);
const base = `${pathToFileURL(site).href}/`;
const pages = pagesOf(site);
const samples = options.includes('--all') ? new Set(pages) : options.includes('--none') ? new Set() : samplesOf(pages);
const report = { pages: pages.length, kinds: new Set(pages.map((p) => p.kind)).size, samples: samples.size, long: 0, axe_runs: 0, colour_runs: 0, focus_stops: 0, prints: 0, undecided: {}, seconds: {} };
const knownTables = new Set(); // makes of tables whose roles were found right
const found = new Map(); // a problem -> where it was seen

const [phone, wide] = [320, 1280];
const paper = Math.floor(((210 - 2 * 16) / 25.4) * 96); // px of A4, the narrower paper, within margins of 16 mm
const long = 250_000; // bytes
const workers = options.includes('--alone') ? 1 : 3;
const browser = await launch();
const queue = [...samples].sort((a, b) => b.bytes - a.bytes);
const places = new Map(); // a place -> its pages besides the samples
for (const page of pages.toSorted((a, b) => b.bytes - a.bytes)) {
  if (samples.has(page)) continue;
  const place = placeOf(page);
  if (!places.has(place)) places.set(place, []);
  places.get(place).push(page);
}
const looking = new Map(); // a place -> how many workers look at its pages
await Promise.all(Array.from({ length: workers }, lookAtSamples));
await Promise.all(Array.from({ length: workers }, lookAtRest));
report.long = [...samples].filter((page) => page.bytes > long).length;
report.tables = knownTables.size;
for (const step in report.seconds) report.seconds[step] = Math.round(report.seconds[step]);
report.cpu_seconds = await cpuSeconds();
await browser.close();
const problems = [...found.values()].map((p) => ({ ...p, at: [...p.at].sort().join('; ') }));
problems.sort((a, b) => (JSON.stringify(a) < JSON.stringify(b) ? -1 : 1));
process.stdout.write(JSON.stringify({ ...report, problems }, null, 1) + '\n');

// tabOf is a new tab without a network: what a page asks of another host is told, and
// fails. What is told is of the page in say.current. Tabs stay open to the end, since only
// living processes tell their processor time.
async function tabOf(width, options) {
  const context = await browser.newContext({ viewport: { width, height: 720 }, offline: true, bypassCSP: Boolean(options.bypassCSP) });
  if (options.tools) await withTools(context);
  const tab = await context.newPage();
  const say = (check, at, wrong) => wrong.forEach((what) => note(say.current.path, check, at, what));
  tab.on('console', (message) => message.type() === 'error' && say('console', 'loading', [message.text()]));
  tab.on('pageerror', (error) => say('console', 'loading', [String(error)]));
  tab.on('request', (request) => request.url().startsWith(base) || request.url().startsWith('data:') || say('request', 'loading', [`asks for ${request.url()}`]));
  tab.on('requestfailed', (request) => say('request', 'loading', [`cannot load ${request.url()}`]));
  return { tab, say };
}

// lookAtSamples looks closely at samples until none is left.
async function lookAtSamples() {
  if (queue.length === 0) return;
  const { tab, say } = await tabOf(phone, { tools: true });
  while ((say.current = queue.shift())) await lookClosely(tab, say.current, say);
}

// lookAtRest looks at the other pages until none is left. At 1280 px pages share a tab's
// document, so the policy that one of them sets is not obeyed there; at 320 px each is.
async function lookAtRest() {
  if (places.size === 0) return;
  const narrow = await tabOf(phone, {});
  const broad = await tabOf(wide, { tools: true, bypassCSP: true });
  let place;
  for (let page; ([page, place] = nextAfter(place)) && page; ) {
    narrow.say.current = broad.say.current = page;
    await timed('load', narrow.tab.goto(page.url, { waitUntil: 'load' }));
    await printSheet(narrow.tab, page, narrow.say);
    await lookNarrow(narrow.tab, narrow.say);
    if (broad.place === place) await timed('show', show(broad.tab, readFileSync(new URL(page.url), 'utf8')));
    else await timed('load', broad.tab.goto(page.url, { waitUntil: 'load' }));
    broad.place = place;
    await seen(broad.tab, `${wide} px, light`, 'every rule', broad.say);
  }
}

// nextAfter is a page of a worker's place, or else of the one with most left to do for
// each who works there.
function nextAfter(place) {
  if (place === undefined || places.get(place).length === 0) {
    const share = (name) => places.get(name).length / (1 + (looking.get(name) ?? 0));
    const most = [...places.keys()].reduce((a, b) => (share(b) > share(a) ? b : a));
    if (place !== undefined) looking.set(place, looking.get(place) - 1);
    looking.set(most, (looking.get(most) ?? 0) + 1);
    place = most;
  }
  return [places.get(place).shift(), place];
}

// timed adds the seconds that a step takes to those of its name, of all tabs together.
async function timed(name, step) {
  const start = performance.now();
  const result = await step;
  report.seconds[name] = (report.seconds[name] ?? 0) + (performance.now() - start) / 1000;
  return result;
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

// lookClosely walks through a page with the Tab key, then looks at it in light and dark, at
// one width and then, without loading it again, at the other: first that of the page
// before, which saves a change. Dark changes colours and nothing else, so only the rules
// of colour run once more. The whole guide in one page is made of parts of the others: at
// 320 px it is asked the rules of colour alone, and in dark nothing.
async function lookClosely(tab, page, say) {
  const widths = tab.viewportSize().width === phone ? [phone, wide] : [wide, phone];
  for (const width of widths) {
    await timed('width', tab.setViewportSize({ width, height: 720 }));
    const again = width === widths[1];
    if (!again) await timed('load', tab.goto(page.url, { waitUntil: 'load' }));
    const walk = await timed('walk', focusWalk(tab, again));
    report.focus_stops += walk.stops;
    say('focus', `${width} px`, walk.problems);
    const whole = page.bytes > long;
    await seen(tab, `${width} px, light`, whole && width === phone ? 'rules of colour' : 'every rule', say, width === wide && !whole ? 'each text' : undefined);
    if (width === wide || !whole) {
      await tab.emulateMedia({ colorScheme: 'dark' });
      await seen(tab, `${width} px, dark`, 'rules of colour', say);
      await tab.emulateMedia({ colorScheme: 'light' });
    }
    if (width === phone) await lookNarrow(tab, say, true);
  }
  await tab.emulateMedia({ forcedColors: 'active' });
  say('drawn', 'forced colours', await timed('drawn', drawn(tab)));
  await tab.emulateMedia({ forcedColors: 'none' });
  if (await printSheet(tab, page, say)) return;
  await tab.setViewportSize({ width: paper, height: 720 });
  await tab.emulateMedia({ media: 'print' });
  say('print', 'A4', await timed('sideways', sideways(tab)));
  await tab.emulateMedia({ media: null }); // else the sheets printed next would be as on a screen
}

// lookNarrow is what can go wrong on a phone. A page that is not looked at closely is left
// afterwards, so it is left with its text spaced out.
async function lookNarrow(tab, say, closely = false) {
  say('sideways', `${phone} px`, await timed('sideways', sideways(tab)));
  say('roles', `${phone} px`, await timed('roles', tableRoles(tab, knownTables, closely)));
  say('spacing', `${phone} px`, await timed('spacing', clipped(tab, !closely)));
}

// printSheet prints a page on both papers where it is a sheet, and says whether it is.
async function printSheet(tab, page, say) {
  if (!/\/sheet(-both)?\.html$/.test(page.kind)) return false;
  for (const format of ['Letter', 'A4']) {
    const keep = prints && samples.has(page) ? `${prints}/${page.path.replaceAll('/', '+')}.${format.toLowerCase()}.pdf` : undefined;
    const count = await timed('print', printed(tab, format, keep));
    report.prints++;
    if (count !== 1) say('print', format, [`takes ${count} paper pages`]);
  }
  return true;
}

// seen is axe and the drawings of a page as the tab shows it now.
async function seen(tab, at, rules, say, texts) {
  const axe = await timed(`axe, ${rules}`, axeRun(tab, rules, texts));
  report[rules === 'every rule' ? 'axe_runs' : 'colour_runs']++;
  say('axe', at, axe.problems);
  for (const rule of axe.undecided) report.undecided[rule] = (report.undecided[rule] ?? 0) + 1;
  say('drawn', at, await timed('drawn', drawn(tab)));
}
