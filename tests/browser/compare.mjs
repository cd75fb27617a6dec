// Pages of comparisons: made of two books, of a history and of a version with a fault, then printed.
//
// Owns what is compared and what must stand on the paper, old and new beside each other.
import { execFileSync, spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, readFileSync, readdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { plain, printed } from './pdf.mjs';
import { PAPERS, checkMargins } from './print.mjs';

const recipes = path.join(path.dirname(fileURLToPath(import.meta.url)), '../../recipes');

/** The margins of a page that names no paper of its own, in millimetres. */
const MARGINS = [8.5, 14, 10, 14];

/** Words that are taken out of the milk tin, and what comes in; the last pair must not be read as markup. */
const CHANGES = [
  [/52 % {6}whole milk/, '54.5 %    whole milk'],
  [/6 % {7}honey\n/, '5 %       malt syrup\n'],
  [/8 % {7}malt syrup instead of honey/, '8 %       honey instead of malt syrup'],
  [/3-4 h {5}proof at proofer/, '4-5 h     proof at proofer'],
  [/stays soft for days/, 'stays soft for <b>four & more</b> days'],
  [/slices: 14/, 'slices: 16'],
];

/** Makes the pages in a folder; gives the name of each and a function that prints and reads it. */
export function comparisons(program, folder) {
  const [old, now] = ['old', 'new'].map((name) => path.join(folder, '..', `book-${name}`));
  for (const book of [old, now]) cpSync(recipes, book, { recursive: true });
  mkdirSync(folder, { recursive: true });
  const milkTin = path.join(now, 'lantern-milk-tin.loaf');
  let text = readFileSync(milkTin, 'utf8');
  for (const [before, after] of CHANGES) {
    if (!before.test(text)) throw new Error(`the milk tin has no ${before}`);
    text = text.replace(before, after);
  }
  writeFileSync(milkTin, text);
  writeFileSync(path.join(now, 'quite-new.loaf'), text.replace(/^title:.*$/m, 'title: Quite new'));
  for (const name of readdirSync(now).filter((name) => name.endsWith('.loaf') && name > 's')) {
    const file = path.join(now, name);
    writeFileSync(file, readFileSync(file, 'utf8').replace(/^( +)(\d+) min /m, (_, indent, least) => `${indent}${Number(least) + 2} min `));
  }
  writeFileSync(path.join(now, 'first-loaf.loaf'), 'title: Half\n\ndough:\n  500 g     bread flour\n  300\n');
  const compare = (name, ...words) => {
    const { stdout, status, error } = spawnSync(program, ['compare', '--html', ...words], { encoding: 'utf8' });
    if (error || status === null) throw error ?? new Error(`compare ${words}`);
    writeFileSync(path.join(folder, name), stdout);
  };
  compare('book.html', old, now);
  compare('history.html', '--history', history(old, text));
  const milk = ['52 %', '54.5 %'];
  return [
    { name: 'book.html', print: printer(folder, 'book.html', milk, ['Quite new', 'a new recipe', 'cannot be compared']) },
    { name: 'history.html', print: printer(folder, 'history.html', milk, ['More milk, for the autumn', 'prefermented']) },
  ];
}

/** Puts the old book under git with one change; gives the recipe that has a history. */
function history(book, text) {
  const git = (...words) => execFileSync('git', ['-c', 'user.name=Oxlip Row', '-c', 'user.email=row@oxlip.example', ...words], { cwd: book });
  const file = path.join(book, 'lantern-milk-tin.loaf');
  git('init', '-q');
  git('add', '.');
  git('commit', '-q', '-m', 'The breads of the row');
  writeFileSync(file, text);
  git('commit', '-q', '-a', '-m', 'More milk, for the autumn');
  return file;
}

/** Gives a function that prints a page on a paper and looks for what must stand there. */
function printer(folder, name, [before, after], phrases) {
  return async (browser, fault) => {
    for (const paper of PAPERS.slice(0, 2)) await print(browser, paper, fault);
  };
  async function print(browser, paper, fault) {
    const told = (what) => fault(`${name} on ${paper.slug}`, what);
    const context = await browser.newContext({ javaScriptEnabled: false });
    const page = await context.newPage();
    const requests = [];
    page.on('request', (request) => requests.push(request.url()));
    await page.goto(pathToFileURL(path.join(folder, name)).href);
    const pdf = path.join(folder, `${name}.${paper.slug}.pdf`);
    await page.pdf({ path: pdf, format: paper.slug, preferCSSPageSize: true, tagged: true });
    await context.close();
    if (requests.length !== 1) told(`asks for ${requests.slice(1).join(', ')}`);
    const made = printed(pdf);
    for (const { width, height } of made.pages) {
      if (Math.abs(width - paper.width) > 1 || Math.abs(height - paper.height) > 1) told(`a page measures ${width} x ${height} points`);
    }
    checkMargins(told, made, { ...paper, margins: MARGINS });
    const text = plain(made.words.map((word) => word.text).join(' ')).replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&amp;', '&');
    for (const phrase of [...phrases, 'whole milk', 'malt syrup', '<b>four & more</b>', 'slices: 14', 'slices: 16']) {
      if (!text.includes(phrase)) told(`“${phrase}” is not in the print`);
    }
    if (!stand(made.words, before, after, paper.width / 2)) told(`${before} and ${after} do not stand beside each other`);
  }
}

/** Says whether two amounts stand in one line, each in its own half of the paper. */
function stand(found, before, after, middle) {
  const [old, now] = [before, after].map((amount) => amount.split(' ')[0]);
  return found.some((left) => left.text === old && left.right < middle
    && found.some((right) => right.text === now && right.page === left.page && right.left > middle
      && Math.abs(right.top - left.top) < 3));
}
