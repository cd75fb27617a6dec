// Judges the cards from outside: a browser prints them, a validator reads their HTML, a checker of accessibility
// looks at them. Usage: node tests/browser/run.mjs CARDS_DIR
//
// With LOAFWRIGHT set to the program, the shipped recipes are also built for each paper and printed, see print.mjs.
// The npm packages are found by NODE_PATH.
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { comparisons } from './compare.mjs';
import { build, printAll } from './print.mjs';

const here = path.dirname(fileURLToPath(import.meta.url));
const require = createRequire(path.join(process.env.NODE_PATH ?? here, 'here.js'));
const { chromium } = require('playwright-core');
const { AxeBuilder } = require('@axe-core/playwright');
const { HtmlValidate } = require('html-validate');

// What Debian calls chromium keeps quiet and starts without a sandbox in a container.
const FLAGS = [
  '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync',
];
const program = process.env.LOAFWRIGHT;
const recipes = path.join(here, '../../recipes');
const faults = [];
const fault = (where, what) => faults.push(`${where}: ${what}`);

const pages = (folder) =>
  readdirSync(folder, { recursive: true }).filter((name) => name.endsWith('.html')).sort();

/** Judges accessibility on the screen; for the first pages also on a phone, in the dark and in print. */
async function judge(browser, file, isLong) {
  const rules = ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa', 'best-practice'];
  const looks = [{ media: 'screen', colorScheme: 'light', width: 1280 }];
  if (isLong) looks.push(...[390, 1280].map((width) => ({ media: 'screen', colorScheme: 'dark', width })), { media: 'print', colorScheme: 'light', width: 1280 });
  const context = await browser.newContext({ bypassCSP: true });
  const page = await context.newPage();
  await page.goto(pathToFileURL(file).href);
  for (const { width, ...look } of looks) {
    await page.setViewportSize({ width, height: 900 });
    await page.emulateMedia(look);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    if (look.media === 'screen' && wide > 0) fault(path.basename(file), `is ${wide} points wider than a screen of ${width}`);
    const { violations } = await new AxeBuilder({ page }).withTags(rules).analyze();
    for (const { id, help, nodes } of violations) {
      fault(`${path.basename(file)} (${look.media})`, `${id}: ${help}: ${nodes[0].html.slice(0, 120)}`);
    }
  }
  await context.close();
}

async function validate(folder) {
  const judge = new HtmlValidate({ extends: ['html-validate:recommended'] });
  for (const name of pages(folder)) {
    const report = await judge.validateFile(path.join(folder, name));
    for (const message of report.results.flatMap((result) => result.messages)) {
      fault(name, `line ${message.line}: ${message.ruleId}: ${message.message}`);
    }
  }
}

async function main([folder]) {
  if (!folder) throw new Error('usage: node tests/browser/run.mjs CARDS_DIR');
  const workshop = mkdtempSync(path.join(tmpdir(), 'loafwright-print-'));
  const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', args: FLAGS });
  let printed = 0;
  let sheets = 0;
  try {
    await validate(folder);
    const looked = pages(folder);
    for (const [place, name] of looked.entries()) {
      await judge(browser, path.join(folder, name), place < 4 || name === 'index.html');
    }
    if (program) {
      const cards = build(program, recipes, path.join(workshop, 'cards'));
      await validate(path.join(workshop, 'cards'));
      for (const { file } of cards.filter(({ name }) => name === 'towpath-levain')) await judge(browser, file, true);
      sheets = await printAll(browser, program, recipes, cards, workshop, fault);
      printed = cards.length;
      const compared = path.join(workshop, 'compared');
      const made = comparisons(program, compared);
      await validate(compared);
      for (const page of made) {
        await judge(browser, path.join(compared, page.name), true);
        await page.print(browser, fault);
      }
    }
  } finally {
    await browser.close();
    rmSync(workshop, { recursive: true, force: true });
  }
  console.log(`${pages(folder).length} pages read, ${printed} cards printed on ${sheets} sheets, ${faults.length} faults`);
  faults.forEach((line) => console.error(line));
  process.exitCode = faults.length ? 1 : 0;
}

await main(process.argv.slice(2));
