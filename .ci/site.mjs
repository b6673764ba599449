// The pages of a built site, sorted, with the kind of page each one is. Pages made
// by one rule (one a band, one a crop) are of one kind: dear checks look at samples of
// each kind, cheap ones at every page.
import { readFileSync, readdirSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';

// kindOf names the rule that made a page: bands/slopes/sheet-2.html is of the kind
// "bands/ID/sheet.html", es/crops/kale.html of the kind "es/crops/ID.html".
export function kindOf(path) {
  const parts = path.split('/');
  const language = /^[a-z]{2}$/.test(parts[0]) && parts.length > 1 ? `${parts.shift()}/` : '';
  const file = parts.pop().replace(/-\d+(?=\.html$)/, '');
  if (parts.length === 0) return language + file;
  if (parts.length === 1) return `${language}${parts[0]}/${file === 'index.html' ? file : 'ID.html'}`;
  return `${language}${parts[0]}/ID/${file}`;
}

// pagesOf lists every page under dir, sorted by path; dot-files are not pages, nor are
// the templates among the guide's inputs.
export function pagesOf(dir) {
  return readdirSync(dir, { recursive: true })
    .map((name) => name.replaceAll('\\', '/'))
    .filter((name) => name.endsWith('.html') && !name.startsWith('inputs/') && !name.split('/').some((part) => part.startsWith('.')))
    .sort()
    .map((path) => ({
      path,
      url: pathToFileURL(join(dir, path)).href,
      kind: kindOf(path),
      bytes: statSync(join(dir, path)).size,
    }));
}

// samplesOf picks the largest page of each kind, then pages until there is one of every
// element and class: what only some pages hold is looked at closely too.
export function samplesOf(pages) {
  const largest = pages.toSorted((a, b) => b.bytes - a.bytes);
  const [samples, kinds, parts] = [new Set(), new Set(), new Set()];
  const take = (page) => {
    samples.add(page);
    kinds.add(page.kind);
    partsOf(page).forEach((part) => parts.add(part));
  };
  for (const page of largest) if (!kinds.has(page.kind)) take(page);
  for (const page of largest) if (partsOf(page).some((part) => !parts.has(part))) take(page);
  return samples;
}

// placeOf says which pages may be shown in place of a page, under its address: those of the
// same place. It is the way up to the site's own folder, where all that the page is drawn
// with is named from there, so that it is found from each such page; else the page's folder.
export function placeOf(page) {
  const up = '../'.repeat(page.path.split('/').length - 1);
  const html = readFileSync(new URL(page.url), 'utf8');
  const drawnWith = (html.match(/<(?!a\s)[a-z]+\s[^>]*>/g) ?? []).filter((tag) => !tag.includes(' rel="alternate"')).flatMap((tag) => tag.match(/(?<=\s(?:href|src|srcset|data|poster)=")[^"]*/g) ?? []);
  return drawnWith.every((url) => url.startsWith('#') || url.startsWith('data:') || (url.startsWith(up) && !url.startsWith('../', up.length))) ? up : dirname(page.path);
}

// partsOf is the elements of a page, each with its classes.
function partsOf(page) {
  const tags = readFileSync(new URL(page.url), 'utf8').match(/<[a-z][^>]*>/g) ?? [];
  return [...new Set(tags.map((tag) => `${tag.match(/^<[a-z0-9]+/)[0]} ${tag.match(/ class="([^"]*)"/)?.[1] ?? ''}`))];
}
