// A printed card taken apart by poppler: the size of its pages and where every word stands.
import { execFileSync } from 'node:child_process';

const run = (program, ...words) =>
  execFileSync(program, words, { encoding: 'utf8', maxBuffer: 64 * 1024 * 1024 });

/** Puts white space together, the kinds that keep numbers and units in one line included. */
export function plain(text) {
  return text.replace(/[\s\u00a0\u202f]+/gu, ' ').trim();
}

/** Gives the size of every page in points, and every word with its box: page from 0, left, top, right, bottom. */
export function printed(file) {
  const pages = [];
  const words = [];
  for (const line of run('pdftotext', '-bbox', file, '-').split('\n')) {
    const sheet = /<page width="([\d.]+)" height="([\d.]+)">/.exec(line);
    if (sheet) pages.push({ width: Number(sheet[1]), height: Number(sheet[2]) });
    const word = /<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">(.*)<\/word>/.exec(line);
    if (word) {
      const [left, top, right, bottom] = word.slice(1, 5).map(Number);
      words.push({ page: pages.length - 1, left, top, right, bottom, text: word[5] });
    }
  }
  return { pages, words };
}
