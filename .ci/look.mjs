// Checks of one loaded page. Each returns what is wrong, in words; [] = nothing.
// The functions handed to evaluate() run inside the page.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

// withTools lets every page that a context opens have axe and colours from its start on.
export async function withTools(context) {
  await context.addInitScript({ content: axeSource });
  await context.addInitScript(lessToRead);
  await context.addInitScript(oneOfEachLook);
  await context.addInitScript(() => {
    const parts = (colour) => (colour.match(/[\d.]+/g) ?? []).map(Number);
    const light = ([r, g, b]) => {
      const [x, y, z] = [r, g, b].map((v) => (v / 255 <= 0.04045 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4));
      return 0.2126 * x + 0.7152 * y + 0.0722 * z;
    };
    window.colours = {
      parts,
      // ratio is the contrast of a colour with one given by its parts (WCAG 2.2, relative luminance).
      ratio(colour, page) {
        const [a, b] = [light(parts(colour)), light(page)];
        return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
      },
      // behind is the parts of the colour that an element stands on.
      behind(el) {
        for (; el; el = el.parentElement) {
          const colour = parts(getComputedStyle(el).backgroundColor);
          if (colour.length === 3) return colour;
        }
        const dark = getComputedStyle(document.documentElement).colorScheme.includes('dark') && matchMedia('(prefers-color-scheme: dark)').matches;
        return dark ? [18, 18, 18] : [255, 255, 255];
      },
    };
  });
}

// lessToRead, run inside the page after axe, saves axe work that cannot change what it
// finds: the source of each place, which nobody reads here, and the roles of elements
// without a label, where a rule is about those alone whose label differs from their words.
function lessToRead() {
  axe.configure({ noHtml: true });
  const rule = axe._audit.rules.find((one) => one.id === 'label-content-name-mismatch');
  const matches = rule.matches;
  const mayHaveLabel = (el) => el.hasAttribute('aria-label') || el.hasAttribute('aria-labelledby') || el.localName.includes('-');
  rule.matches = (el, ...rest) => mayHaveLabel(el) && matches.call(rule, el, ...rest);
}

// oneOfEachLook, run inside the page after axe, lets axe judge the contrast of one
// text of each look: the same colour, size and weight on the same grounds has the same
// contrast, and finding out what lies behind each text takes axe most of its time. What
// stands out of the flow, so that it may lie over something else, is judged each time.
// Style is read through axe's own nodes, which remember it: axe asks for most of it too.
function oneOfEachLook() {
  const rule = axe._audit.rules.find((one) => one.id === 'color-contrast');
  const [matches, grounds, looks] = [rule.matches, new Map(), new Set()];
  let alone = 0;
  let judgeEach = false;
  // ground is all that an element and those around it put behind its text or over it.
  const ground = (node) => {
    if (!node) return '';
    const known = grounds.get(node);
    if (known !== undefined) return known;
    const style = (name) => node.getComputedStylePropertyValue(name);
    let own = '';
    const [colour, image] = [style('background-color'), style('background-image')];
    if (colour !== 'rgba(0, 0, 0, 0)' || image !== 'none') own += `${colour} ${image};`;
    const [opacity, filter, blend] = [style('opacity'), style('filter'), style('mix-blend-mode')];
    if (opacity !== '1' || filter !== 'none' || blend !== 'normal') own += `${opacity} ${filter} ${blend};`;
    const position = style('position');
    if ((position !== 'static' && position !== 'relative') || style('float') !== 'none' || style('transform') !== 'none') own += `${++alone};`;
    if (position === 'relative' && ['top', 'right', 'bottom', 'left'].some((side) => parseFloat(style(side)))) own += `${++alone};`;
    const all = ground(node.parent) + own;
    grounds.set(node, all);
    return all;
  };
  const hasText = (el) => {
    for (let node = el.firstChild; node; node = node.nextSibling) if (node.nodeType === Node.TEXT_NODE && /\S/.test(node.data)) return true;
    return false;
  };
  rule.matches = (el, node, ...rest) => {
    if (judgeEach) return matches.call(rule, el, node, ...rest);
    const typed = el.matches('input, select, textarea');
    if (!typed && !hasText(el)) return false;
    const style = (name) => node.getComputedStylePropertyValue(name);
    const look = typed ? `${++alone}` : `${style('color')}|${style('-webkit-text-fill-color')}|${style('font-size')}|${style('font-weight')}|${style('text-shadow')}|${ground(node)}`;
    if (looks.has(look) || !matches.call(rule, el, node, ...rest)) return false;
    looks.add(look);
    return true;
  };
  // newLooks begins a run of axe; each = true has every text judged.
  window.newLooks = (each) => {
    grounds.clear();
    looks.clear();
    judgeEach = each;
  };
}

// show puts another page of the same place into a tab in place of the one there. The
// tab keeps its address and its scripts, axe among them, which saves making them anew.
export async function show(page, html) {
  await page.evaluate(
    (html) =>
      new Promise((loaded) => {
        document.open();
        addEventListener('load', loaded, { once: true });
        document.write(html);
        document.close();
      }),
    html,
  );
}

// axeRun is every violation of WCAG 2.2 A and AA and of axe's good practice ("every
// rule"), or of those of them that are about colours ("rules of colour"), and the rules
// that axe could not decide. Naming each place it looked at takes axe long, so places
// are named only where something is wrong, in a second run, which also judges each text;
// "each text" does so at once.
export function axeRun(page, rules, texts) {
  return page.evaluate(async ([rules, texts]) => {
    const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
    const colour = () => axe.getRules(tags).filter((rule) => rule.tags.includes('cat.color')).map((rule) => rule.ruleId);
    const options = {
      ...(rules === 'every rule'
        ? { runOnly: tags, rules: { 'target-size': { enabled: true } } } // targets of 24 px; axe leaves it out by itself
        : { runOnly: { type: 'rule', values: colour() } }),
      resultTypes: ['violations', 'incomplete'],
      preload: false, // it would fetch the style sheet again, which a page from the disk may not
      selectors: false,
      elementRef: false,
    };
    window.newLooks(texts === 'each text');
    let result = await axe.run(document, options);
    if (result.violations.length > 0) {
      window.newLooks(true);
      result = await axe.run(document, { ...options, selectors: true });
    }
    const nodes = (rule) => rule.nodes.slice(0, 3).map((node) => node.target.join(' ')).join(' | ');
    return {
      problems: result.violations.map((rule) => `${rule.id}: ${rule.help}; ${rule.nodes.length} x, at ${nodes(rule)}`),
      undecided: result.incomplete.map((rule) => rule.id),
    };
  }, [rules, texts]);
}

// drawn finds words in drawings that stand out too little from the page behind them
// (WCAG 1.4.3: 4.5 to 1), which axe leaves undecided, and lines that do (1.4.11: 3 to 1).
// Faint lines of a grid (classes rule and month) only help the eye along and are left out;
// shapes of the drawing that lie behind its words are not looked at.
export function drawn(page) {
  return page.evaluate(() => {
    const { parts, ratio, behind } = window.colours;
    const poor = new Map();
    const against = (el, colour, opacity, least, name) => {
      const page = behind(el.closest('svg').parentElement);
      const ink = parts(colour).slice(0, 3).map((v, i) => v * opacity + page[i] * (1 - opacity));
      const found = ratio(`rgb(${ink})`, page);
      const key = `${colour} on the page, ${found.toFixed(1)} to 1`;
      if (found < least && !poor.has(key)) poor.set(key, `${name} is ${key}`);
    };
    for (const word of document.querySelectorAll('svg text')) {
      const style = getComputedStyle(word);
      if (!word.textContent.trim() || !word.checkVisibility() || style.fill === 'none') continue;
      against(word, style.fill, 1, 4.5, `"${word.textContent.trim().slice(0, 40)}"`);
    }
    for (const line of document.querySelectorAll('svg :is(path, line, polyline, circle, rect)')) {
      const style = getComputedStyle(line);
      if (!line.checkVisibility() || line.matches('.rule, .month') || style.stroke === 'none') continue;
      against(line, style.stroke, Number(style.strokeOpacity) * Number(style.opacity), 3, `a ${line.tagName} of a drawing`);
    }
    return [...poor.values()];
  });
}

// tableRoles asks the accessibility tree for the rows, cells and headings of every
// table: where tables stack, style must not take their roles. The tree is dear, so pages
// whose tables are all known, made of the same parts in the same style as tables that
// were found sound, are not asked again unless always is set; known grows by what is.
export async function tableRoles(page, known, always) {
  const { wanted, tables } = await page.evaluate(() => {
    const parts = (what) => [...document.querySelectorAll(what)].filter((el) => el.closest('table') && el.checkVisibility());
    const all = (what) => parts(what).length;
    // make is all of an element, besides its content, that a role may hang on.
    const make = (el) => {
      const attributes = [...el.attributes].filter((a) => !['id', 'headers', 'style', 'lang', 'data-label'].includes(a.name));
      const s = getComputedStyle(el);
      return `${el.tagName} ${attributes.map((a) => (/^(class|scope|role|aria-hidden)$/.test(a.name) ? `${a.name}=${a.value}` : a.name)).join()} ${s.display} ${s.visibility} ${s.float} ${s.position} ${s.borderTopWidth}`;
    };
    const table = (el) => {
      const around = [];
      for (let up = el.parentElement; up; up = up.parentElement) if (up.matches('[role], [aria-hidden], [inert], table')) around.push(make(up));
      const inside = new Set([...el.querySelectorAll('*')].filter((part) => part.matches('caption, thead, tbody, tfoot, tr, td, th, [role], [aria-hidden]')).map(make));
      const plain = el.querySelector('th, caption, thead') ? '' : el.innerHTML; // then browsers guess by what is inside
      return [make(el), ...around, '/', ...[...inside].sort(), plain].join('; ');
    };
    return {
      wanted: { table: all('table'), row: all('tr'), cell: all('td'), rowheader: all('th[scope=row]'), columnheader: all('th[scope=col]') },
      tables: [...new Set(parts('table').map(table))],
    };
  });
  if (tables.length === 0 || (!always && tables.every((one) => known.has(one)))) return [];
  const session = await page.context().newCDPSession(page);
  const { nodes } = await session.send('Accessibility.getFullAXTree');
  await session.detach();
  const found = {};
  for (const node of nodes) if (!node.ignored) found[node.role?.value] = (found[node.role?.value] ?? 0) + 1;
  found.cell = (found.cell ?? 0) + (found.gridcell ?? 0);
  const wrong = Object.keys(wanted)
    .filter((role) => wanted[role] !== (found[role] ?? 0))
    .map((role) => `${wanted[role]} parts of tables should be a ${role}, ${found[role] ?? 0} are`);
  if (wrong.length === 0) tables.forEach((one) => known.add(one));
  return wrong;
}

// sideways says whether the page scrolls sideways, and which parts stick out.
export function sideways(page) {
  return page.evaluate(() => {
    const root = document.scrollingElement;
    if (root.scrollWidth <= root.clientWidth) return [];
    const name = (el) => el.tagName.toLowerCase() + (el.id ? `#${el.id}` : '') + (el.classList[0] ? `.${el.classList[0]}` : '');
    const wide = [...document.body.querySelectorAll('*')].filter(
      (el) => el.getBoundingClientRect().right > root.clientWidth + 0.5 && !el.closest('svg *'),
    );
    const inner = wide.filter((el) => !wide.some((other) => other !== el && el.contains(other)));
    return [`${root.scrollWidth} px wide in ${root.clientWidth}; sticks out: ${inner.slice(0, 3).map(name).join(', ') || 'unknown'}`];
  });
}

// clipped widens lines, letters and words as WCAG 1.4.12 asks, and names text that
// is cut off by it. Text hidden on purpose (one pixel wide) is left out. Leaving = true
// leaves the page so: laying it out again would be for nothing where it is left next.
export function clipped(page, leaving) {
  return page.evaluate((leaving) => {
    const spaced = new CSSStyleSheet(); // no style element: the page's own policy may forbid one
    spaced.replaceSync('* { line-height: 1.5 !important; letter-spacing: .12em !important; word-spacing: .16em !important } p { margin-bottom: 2em !important }');
    document.adoptedStyleSheets = [spaced];
    const cut = (overflow) => overflow === 'hidden' || overflow === 'clip';
    const found = [...document.body.querySelectorAll('*')].filter((el) => {
      const style = getComputedStyle(el);
      const [across, down] = [cut(style.overflowX), cut(style.overflowY)];
      if ((!across && !down) || el.closest('svg') || el.clientWidth <= 1 || !el.textContent.trim()) return false;
      return (across && el.scrollWidth > el.clientWidth + 1) || (down && el.scrollHeight > el.clientHeight + 1);
    });
    if (!leaving) document.adoptedStyleSheets = [];
    return found
      .slice(0, 3)
      .map((el) => `${el.tagName.toLowerCase()} "${el.textContent.trim().slice(0, 40)}" is cut off when letters and lines are spaced out`);
  }, leaving);
}

// focusWalk presses Tab from the top of a page to its end; again = true for a page that was
// walked before and not loaded since. Every stop must come in
// the order of the text, be seen, be uncovered and look different from before; the
// first must skip to the text where the page has a navigation. A stop is looked at in
// the page itself when the next Tab comes: the page has settled by then.
export async function focusWalk(page, again) {
  const most = 100; // of the longest pages the beginning is walked
  const session = await page.context().newCDPSession(page);
  const tabKey = { key: 'Tab', code: 'Tab', windowsVirtualKeyCode: 9 };
  const press = (type) => session.send('Input.dispatchKeyEvent', { type, ...tabKey });
  if (again) await leaveByTheEnd(page, press);
  const stops = await page.evaluate((most) => {
    const visible = (el) => el.checkVisibility({ visibilityProperty: true }) && !el.disabled;
    const look = (el) => {
      const s = getComputedStyle(el);
      return [s.outlineStyle, s.outlineWidth, s.outlineColor, s.boxShadow, s.backgroundColor, s.borderColor].join();
    };
    const name = (el) => `${el.tagName.toLowerCase()} "${(el.getAttribute('aria-label') || el.textContent).trim().slice(0, 40)}"`;
    const stops = [...document.querySelectorAll('a[href], area[href], button, input, select, textarea, summary, [tabindex]')].filter(
      (el) => el.tabIndex >= 0 && visible(el),
    );
    const quiet = stops.map(look);
    const problems = [];
    const { ratio, behind } = window.colours;
    const skip = stops[0]?.getAttribute('href') ?? '';
    if (document.querySelector('nav') !== null && !(skip.startsWith('#') && document.getElementById(decodeURIComponent(skip.slice(1))) !== null)) {
      problems.push('the first stop is not a link that skips to the text of this page');
    }
    let expected = 0;
    let lost = false;
    const check = () => {
      const el = document.activeElement;
      const at = stops.indexOf(el);
      const wanted = name(stops[expected]);
      const say = (what) => problems.push(`stop ${expected + 1}${what}`);
      if (at !== expected) {
        say(` is ${el === document.body ? 'nothing' : name(el)} instead of ${wanted}`);
        lost = true;
        return;
      }
      const box = el.getClientRects()[0];
      const inside = box && box.width > 1 && box.height > 1 && box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth;
      if (!inside) say(`, ${wanted}, is out of sight`);
      else {
        const top = document.elementFromPoint(
          Math.min(Math.max(box.left + box.width / 2, 0), innerWidth - 1),
          Math.min(Math.max(box.top + box.height / 2, 0), innerHeight - 1),
        );
        if (!top || !(el.contains(top) || top.contains(el))) say(`, ${wanted}, is covered`);
      }
      if (look(el) === quiet[at]) say(`, ${wanted}, looks the same with and without the focus`);
      const mark = getComputedStyle(el);
      if (mark.outlineStyle !== 'none' && mark.outlineStyle !== 'auto' && ratio(mark.outlineColor, behind(el.parentElement)) < 3) {
        say(`, ${wanted}, has a mark of ${mark.outlineColor} that stands out too little`);
      }
      expected++;
    };
    let pressed = 0;
    const onKey = () => {
      if (pressed++ > 0 && !lost) check();
    };
    addEventListener('keydown', onKey, true);
    window.endWalk = () => {
      if (pressed > 0 && !lost) check();
      removeEventListener('keydown', onKey, true);
      document.activeElement.blur();
      scrollTo(0, 0);
      return problems.slice(0, 5);
    };
    return Math.min(stops.length, most);
  }, most);
  await Promise.all([...Array.from({ length: stops }, () => press('rawKeyDown')), press('keyUp')]); // the page takes them one by one
  await session.detach();
  const problems = await page.evaluate(() => window.endWalk());
  return { problems, stops };
}

// leaveByTheEnd moves the focus to the last stop of a page and out of it, as if into the
// browser's own buttons: only then does a browser begin at the top again, with stops that
// ask for a turn of their own. The last stop is one put there for it.
async function leaveByTheEnd(page, press) {
  await page.evaluate(() => {
    const last = document.createElement('p');
    last.tabIndex = 0;
    document.body.append(last);
    last.focus();
    window.last = last;
  });
  await Promise.all([press('rawKeyDown'), press('keyUp')]);
  await page.evaluate(() => window.last.remove());
}

// printed is the number of paper pages of the page on a paper size. Margins are a
// browser's usual ones; the page's own @page rule wins over them. Colours of the
// background are left out, as browsers do unless told otherwise. Path keeps the PDF.
export async function printed(page, format, path) {
  const margin = { top: '10mm', right: '10mm', bottom: '10mm', left: '10mm' };
  const pdf = await page.pdf({ format, margin, printBackground: false, path });
  return pdf.toString('latin1').match(/\/Type\s*\/Page\b/g).length;
}
