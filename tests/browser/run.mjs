// Judges the cards from outside: a browser prints them on A4 and on Letter, a validator reads their HTML, a
// checker of accessibility looks at them. Usage: node tests/browser/run.mjs CARDS_DIR
//
// With LOAFWRIGHT set to the program, the shipped recipes are also built for each paper, and the weights of
// their sheets are looked for in the print. The npm packages are found by NODE_PATH.
import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { comparisons } from './compare.mjs';
import { pageSizes, plain, textOf, words } from './pdf.mjs';

const here = path.dirname(fileURLToPath(import.meta.url));
const require = createRequire(path.join(process.env.NODE_PATH ?? here, 'here.js'));
const { chromium } = require('playwright-core');
const { AxeBuilder } = require('@axe-core/playwright');
const { HtmlValidate } = require('html-validate');

const MM = 72 / 25.4;
const PAPERS = [
  { name: 'A4', width: 210 * MM, height: 297 * MM, margins: [11, 14, 12, 14] },
  { name: 'Letter', width: 612, height: 792, margins: [8.5, 14, 10, 14] },
];
// What Debian calls chromium keeps quiet and starts without a sandbox in a container.
const FLAGS = [
  '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync',
];
const faults = [];
const fault = (where, what) => faults.push(`${where}: ${what}`);

const pages = (folder) =>
  readdirSync(folder, { recursive: true }).filter((name) => name.endsWith('.html')).sort();

/** Whether the letters that the style sheet asks for are there; others are wider, and a card may run over. */
const hasLetters = /Pagella|Palatino|P052/.test(execFileSync('fc-list', { encoding: 'utf8' }));

/** Prints a card and looks at the paper, the number of pages, the margins and the weights. */
async function print(browser, folder, name, paper, weights, workshop) {
  const where = `${name} on ${paper.name}`;
  const context = await browser.newContext({ javaScriptEnabled: false });
  const page = await context.newPage();
  const requests = [];
  page.on('request', (request) => requests.push(request.url()));
  await page.goto(pathToFileURL(path.join(folder, name)).href);
  const pdf = path.join(workshop, `${name.replaceAll('/', '-')}.${paper.name}.pdf`);
  await page.pdf({ path: pdf, preferCSSPageSize: true, tagged: true });
  const shown = await page.locator('.w b, .t, .in b, .outside b, .kept').allTextContents();
  // What ends method and time line, which stand on the first page with the formula.
  const ends = [...(await page.locator('.method .do b').allTextContents()).slice(-1),
    ...(await page.locator('svg .l').allTextContents()).slice(-1)];
  await context.close();
  if (requests.length !== 1) fault(where, `asks for ${requests.slice(1).join(', ')}`);
  checkSizes(where, pdf, paper);
  const text = textOf(pdf);
  for (const weight of new Set([...shown.map(plain), ...weights])) {
    if (weight && !stands(text, weight)) fault(where, `${weight} is not in the print`);
  }
  checkMargins(where, pdf, paper);
  const first = textOf(pdf, 1, 1);
  for (const words of hasLetters ? ends.map(plain) : []) {
    if (!first.includes(words)) fault(where, `“${words}” is not on the first page`);
  }
  return pageSizes(pdf).length;
}

/** Says whether a weight stands in a text, the spaces that a reader of PDF takes for none aside. */
function stands(text, weight) {
  const bare = (words) => words.replaceAll(' ', '');
  const place = bare(text).indexOf(bare(weight));
  return place >= 0 && (place === 0 || text.includes(weight) || !/[\d.]/.test(bare(text)[place - 1]));
}

function checkSizes(where, pdf, paper, most = 3) {
  const sizes = pageSizes(pdf);
  for (const [width, height] of sizes) {
    if (Math.abs(width - paper.width) > 1 || Math.abs(height - paper.height) > 1) {
      fault(where, `a page measures ${width} x ${height} points`);
    }
  }
  if (sizes.length > most) fault(where, `${sizes.length} pages`);
}

/** Every word stands between the margins, but for the running title and the page number. */
function checkMargins(where, pdf, paper) {
  const [top, right, bottom, left] = paper.margins.map((margin) => margin * MM);
  for (const word of words(pdf)) {
    // A box is as high as the letters of its font can be, which is more than these letters are.
    const slack = (word.bottom - word.top) / 3;
    const isBeside = word.left < left - 2 || word.right > paper.width - right + 2;
    const isAbove = word.top < top - slack && word.bottom > top + slack;
    const isBelow = word.bottom > paper.height - bottom + slack && word.top < paper.height - bottom - slack;
    if (isBeside || isAbove || isBelow) fault(where, `“${word.text}” stands in the margin`);
  }
}

/** Builds the shipped recipes for a paper; gives the folder of cards and the weights of each sheet. */
function build(paper, workshop) {
  const program = process.env.LOAFWRIGHT;
  const recipes = path.join(workshop, `recipes-${paper.name}`);
  cpSync(path.join(here, '../../recipes'), recipes, { recursive: true });
  const files = readdirSync(recipes, { recursive: true }).filter((file) => file.endsWith('.loaf'));
  for (const file of files) {
    const text = readFileSync(path.join(recipes, file), 'utf8');
    writeFileSync(path.join(recipes, file), text.replace(/^paper:.*$/m, `paper: ${paper.name}`));
  }
  const cards = path.join(workshop, `cards-${paper.name}`);
  execFileSync(program, ['build', recipes, '--out', cards], { stdio: ['ignore', 'ignore', 'inherit'] });
  const weights = new Map();
  for (const file of files.filter((file) => path.basename(file) !== 'bakehouse.loaf')) {
    const json = execFileSync(program, ['sheet', path.join(recipes, file), '--json'], { encoding: 'utf8' });
    weights.set(path.basename(file, '.loaf'), sheetWeights(JSON.parse(json)));
  }
  return { cards, weights };
}

/** Lists what the scales show for every line, as a card writes it. */
function sheetWeights(document) {
  if (document.recipe.units?.[0] !== 'g') return [];
  const found = [];
  const walk = (value) => {
    if (Array.isArray(value)) value.forEach(walk);
    else if (value && typeof value === 'object') {
      const { weight_g: exact, scale_weight_g: scale } = value;
      // What the scales cannot show is written more finely, and a total of the whole bread more roughly.
      const isClose = exact > 0 && Math.abs(exact - scale) <= exact / 10;
      if (scale !== undefined && isClose && !('parts' in value)) found.push(`${grouped(scale)} g`);
      Object.values(value).forEach(walk);
    }
  };
  walk(document.sheet.blocks);
  return found;
}

function grouped(weight) {
  const [whole, part] = String(weight).split('.');
  const digits = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, ' ') : whole;
  return part ? `${digits}.${part}` : digits;
}

/** Judges accessibility on the screen; for the first pages also in the dark and in print. */
async function judge(browser, file, isLong) {
  const rules = ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa', 'best-practice'];
  const looks = [{ media: 'screen', colorScheme: 'light' }];
  if (isLong) looks.push({ media: 'screen', colorScheme: 'dark' }, { media: 'print', colorScheme: 'light' });
  const context = await browser.newContext({ bypassCSP: true });
  const page = await context.newPage();
  await page.goto(pathToFileURL(file).href);
  for (const look of looks) {
    await page.emulateMedia(look);
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
    for (const paper of process.env.LOAFWRIGHT ? PAPERS : []) {
      const { cards, weights } = build(paper, workshop);
      for (const name of pages(cards).filter((name) => name !== 'index.html')) {
        sheets += await print(browser, cards, name, paper, weights.get(path.basename(name, '.html')) ?? [], workshop);
        printed += 1;
      }
    }
    if (process.env.LOAFWRIGHT) {
      const compared = path.join(workshop, 'compared');
      const made = comparisons(process.env.LOAFWRIGHT, compared);
      await validate(compared);
      for (const page of made) {
        await judge(browser, path.join(compared, page.name), true);
        for (const paper of PAPERS) await page.print(browser, paper, { fault, checkSizes, checkMargins });
      }
    }
  } finally {
    await browser.close();
    rmSync(workshop, { recursive: true, force: true });
  }
  if (!hasLetters) console.log('no Palatino-like letters here: what must stand on the first page was not asked');
  console.log(`${pages(folder).length} pages read, ${printed} cards printed on ${sheets} sheets, ${faults.length} faults`);
  faults.forEach((line) => console.error(line));
  process.exitCode = faults.length ? 1 : 0;
}

await main(process.argv.slice(2));
