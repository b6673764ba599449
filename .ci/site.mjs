// The pages of a built site, sorted, with the kind of page each one is. Pages made
// by one rule (one a band, one a crop) are of one kind: dear checks look at the
// smallest and the largest of each kind, cheap ones at every page.
import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
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

// samplesOf picks the smallest and the largest page of each kind.
export function samplesOf(pages) {
  const ends = new Map();
  for (const page of pages) {
    const [small, large] = ends.get(page.kind) ?? [page, page];
    ends.set(page.kind, [page.bytes < small.bytes ? page : small, page.bytes > large.bytes ? page : large]);
  }
  return new Set([...ends.values()].flat());
}
