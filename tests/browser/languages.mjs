// Cards in German and French printed on every paper: the page says what language it is in, nothing stands in a margin,
// and no long word of the card is broken in two by a narrow column. Owns these checks alone; the rest stands in print.mjs.
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
const LANGUAGES = { de: 'de', fr: 'fr', 'en-us': 'en-US' };
const recipes = path.join(path.dirname(fileURLToPath(import.meta.url)), '../cases/words');
const faults = [];

/** Lists the words of a card's heads, names and steps. Runs in the page. */
function wordsOf() {
  const words = new Set();
  for (const part of document.querySelectorAll('th, dt, caption, h2:not(.quiet), h3, .do b, .in bdi')) {
    const texts = document.createTreeWalker(part, NodeFilter.SHOW_TEXT);
    while (texts.nextNode()) texts.currentNode.textContent.split(/[\s\u202f-]+/).forEach((word) => words.add(word));
  }
  return [...words].filter((word) => /^\p{L}{4,}$/u.test(word));
}

async function main() {
  const workshop = mkdtempSync(path.join(tmpdir(), 'loafwright-languages-'));
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
    args: ['--no-sandbox', '--disable-background-networking'],
  });
  const cards = build(process.env.LOAFWRIGHT, recipes, path.join(workshop, 'cards'));
  let looked = 0;
  try {
    const page = await browser.newPage();
    await page.emulateMedia({ media: 'print' });
    for (const { file, name, paper } of cards) {
      const told = (what) => faults.push(`${name} on ${paper.slug}: ${what}`);
      await page.goto(pathToFileURL(file).href);
      const language = await page.evaluate(() => document.documentElement.lang);
      if (language !== LANGUAGES[name]) told(`says that it is in ${language}`);
      const words = await page.evaluate(wordsOf);
      const pdf = path.join(workshop, 'card.pdf');
      await page.pdf({ path: pdf, preferCSSPageSize: true });
      const print = printed(pdf);
      checkMargins(told, print, paper);
      const there = new Set(print.words.flatMap((word) => word.text.split(/[^\p{L}]+/u)));
      for (const word of words.filter((word) => !there.has(word))) told(`“${word}” is broken in two`);
      looked += words.length;
    }
  } finally {
    await browser.close();
    rmSync(workshop, { recursive: true, force: true });
  }
  if (cards.length < 21 || looked < 600) faults.push(`only ${looked} words on ${cards.length} cards were looked for`);
  console.log(`${looked} words on ${cards.length} cards in other languages, ${faults.length} faults`);
  faults.forEach((line) => console.error(line));
  process.exitCode = faults.length ? 1 : 0;
}

await main();
