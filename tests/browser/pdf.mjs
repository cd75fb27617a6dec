// A printed card taken apart by poppler: sizes, text, and where every word stands.
import { execFileSync } from 'node:child_process';

const run = (program, ...words) =>
  execFileSync(program, words, { encoding: 'utf8', maxBuffer: 64 * 1024 * 1024 });

/** Gives the size of every page in points. */
export function pageSizes(file) {
  const lines = run('pdfinfo', '-f', '1', '-l', '999', file).split('\n');
  return lines
    .map((line) => /^Page +\d+ size: +([\d.]+) x ([\d.]+) pts/.exec(line))
    .filter(Boolean)
    .map(([, width, height]) => [Number(width), Number(height)]);
}

/** Gives the text of some pages with all white space put together. */
export function textOf(file, first = 1, last = 999) {
  return plain(run('pdftotext', '-f', String(first), '-l', String(last), file, '-'));
}

/** Puts white space together, the kinds that keep numbers and units in one line included. */
export function plain(text) {
  return text.replace(/[\s\u00a0\u202f]+/gu, ' ').trim();
}

/** Gives every word of every page with its box: page from 0, left, top, right and bottom in points. */
export function words(file) {
  const found = [];
  let page = -1;
  for (const line of run('pdftotext', '-bbox', file, '-').split('\n')) {
    if (line.includes('<page ')) page += 1;
    const word = /<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">(.*)<\/word>/.exec(line);
    if (word) {
      const [left, top, right, bottom] = word.slice(1, 5).map(Number);
      found.push({ page, left, top, right, bottom, text: word[5] });
    }
  }
  return found;
}
