// Cards in other languages, and cards with more in them than shipped ones have, printed on every paper: the page says what
// language it is in, nothing stands in a margin, no long word of the card is broken in two by a narrow column, a list begins on
// the first card however long it is, and on a page that is written from the right every number stands before its unit. Owns
// these checks alone; the rest stands in print.mjs.
//
// LOAFWRIGHT names the program.
import { mkdtempSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { printed } from './pdf.mjs';
import { build, checkMargins } from './print.mjs';

const { chromium } = createRequire(import.meta.url)('playwright-core');
const LANGUAGES = { de: 'de', fr: 'fr', 'en-us': 'en-US', he: 'he' };
const recipes = path.join(path.dirname(fileURLToPath(import.meta.url)), '../cases/words');
const faults = [];

/** Counts how often each word stands on a card that is in its heads, names or steps. Runs in the page. */
function wordsOf() {
  const wordsIn = (text) => text.split(/[^\p{L}]+/u);
  const counts = new Map();
  for (const part of document.querySelectorAll('th, dt, caption, h2:not(.quiet), h3, .do b, .in bdi')) {
    for (const word of wordsIn(part.textContent)) counts.set(word, 0);
  }
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const { currentNode: text } = texts;
    if (text.parentElement.closest('.quiet, title, desc')) continue;
    for (const word of wordsIn(text.textContent)) if (counts.has(word)) counts.set(word, counts.get(word) + 1);
  }
  // Letters that are written from the right come out of a print in another order.
  return [...counts].filter(([word]) => /^\p{Script=Latin}{4,}$/u.test(word));
}

/** Lists numbers that stand on the wrong side of their units, and what runs out of the time line. Runs in the page. */
function turned() {
  const wrong = [];
  const box = (node, from, to) => {
    const range = document.createRange();
    range.setStart(node, from);
    range.setEnd(node, to);
    return range.getBoundingClientRect();
  };
  let numbers = 0;
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const { currentNode: node } = texts;
    for (const found of node.textContent.matchAll(/([+\d][\d.,:\u2013]*)([\u00a0\u202f ])(g|oz|%|\u00b0C|\u00b0F|min|h)(?!\p{L})/gu)) {
      const start = found.index;
      const number = box(node, start, start + found[1].length);
      const unit = box(node, start + found[1].length + 1, start + found[0].length);
      // What is there for those who hear the page alone has no place.
      if (number.width < 2 || number.top > unit.bottom || unit.top > number.bottom) continue;
      numbers += 1;
      if (number.right > unit.left + 1) wrong.push(found[0]);
    }
  }
  const svg = document.querySelector('svg').getBoundingClientRect();
  for (const text of document.querySelectorAll('svg text')) {
    const { left, right } = text.getBoundingClientRect();
    if (left < svg.left - 2 || right > svg.right + 2) wrong.push(`${text.textContent}, out of the time line`);
  }
  for (const text of document.querySelectorAll('svg .l')) {
    const sample = text.previousElementSibling.getBoundingClientRect();
    if (text.getBoundingClientRect().left < sample.right) wrong.push(`${text.textContent}, over its sample`);
  }
  const english = [...document.querySelectorAll('footer, .care, tfoot th span, .do .cue')];
  english.filter((part) => !part.closest('[lang=en]')).forEach((part) => wrong.push(`${part.textContent}, not marked as English`));
  return { numbers, wrong };
}

/** A card that is written from the right, in print; and the page of its readers, on a phone and as wide as a table. */
async function fromTheRight(page, told) {
  const { numbers, wrong } = await page.evaluate(turned);
  wrong.forEach((text) => told(`turned about: ${text}`));
  if (numbers < 20) told(`only ${numbers} numbers with units were found`);
}

async function main() {
  const workshop = mkdtempSync(path.join(tmpdir(), 'loafwright-languages-'));
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-background-networking'],
  });
  const cards = build(process.env.LOAFWRIGHT, recipes, path.join(workshop, 'cards'));
  let looked = 0;
  let right = 0;
  try {
    const page = await browser.newPage();
    await page.emulateMedia({ media: 'print' });
    for (const { file, name, paper } of cards) {
      const told = (what) => faults.push(`${name} on ${paper.slug}: ${what}`);
      await page.goto(pathToFileURL(file).href);
      const language = await page.evaluate(() => document.documentElement.lang);
      if (language !== (LANGUAGES[name] ?? 'en')) told(`says that it is in ${language}`);
      const words = await page.evaluate(wordsOf);
      const pdf = path.join(workshop, 'card.pdf');
      await page.pdf({ path: pdf, preferCSSPageSize: true });
      const print = printed(pdf);
      checkMargins(told, print, paper);
      const there = print.words.flatMap(({ text }) => text.split(/[^\p{L}]+/u));
      for (const [word, count] of words) {
        if (there.filter((other) => other === word).length < count) told(`“${word}” is broken in two`);
      }
      looked += words.length;
      const first = await page.evaluate(() => document.querySelector('.formula tbody th').textContent.split(/[\s-]/)[0]);
      if (!print.words.some((word) => word.page === 0 && word.text.startsWith(first))) told('its list begins on the second page');
      if (language !== 'he') continue;
      right += 1;
      await fromTheRight(page, told);
      const count = print.words.filter((word) => word.page === 0).slice(-3).sort((one, other) => one.left - other.left);
      if (count.map(({ text }) => text).join(' ') !== `1 of ${print.pages.length}`) told('its page number is turned about');
    }
    await page.emulateMedia({ media: 'screen' });
    for (const width of [390, 1280]) {
      await page.setViewportSize({ width, height: 900 });
      for (const name of ['he.read.html', 'he.a6.html', 'he.html']) {
        const file = path.join(workshop, 'cards', name);
        await page.goto(pathToFileURL(file).href);
        await fromTheRight(page, (what) => faults.push(`${name}, ${width} wide: ${what}`));
      }
    }
  } finally {
    await browser.close();
    rmSync(workshop, { recursive: true, force: true });
  }
  if (right < 7) faults.push(`only ${right} cards are written from the right`);
  if (cards.length < 49 || looked < 1500) faults.push(`only ${looked} words on ${cards.length} cards were looked for`);
  console.log(`${looked} words on ${cards.length} cards in other languages, ${faults.length} faults`);
  faults.forEach((line) => console.error(line));
  process.exitCode = faults.length ? 1 : 0;
}

await main();
