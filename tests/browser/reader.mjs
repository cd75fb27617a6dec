// The book driven in a browser, from disk: what a reader chooses on a page against `loafwright sheet` at that size,
// the page without its script, what is printed, and the index that finds. Usage: LOAFWRIGHT=program node
// tests/browser/reader.mjs
import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { plain, printed } from './pdf.mjs';

const here = path.dirname(fileURLToPath(import.meta.url));
const require = createRequire(path.join(process.env.NODE_PATH ?? here, 'here.js'));
const { chromium } = require('playwright-core');
const { AxeBuilder } = require('@axe-core/playwright');
const { HtmlValidate } = require('html-validate');

const program = process.env.LOAFWRIGHT;
if (!program) throw new Error('LOAFWRIGHT names the program');
const FLAGS = [
  '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync',
];
const RULES = ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa', 'best-practice'];
const faults = [];
const fault = (where, what) => faults.push(`${where}: ${what}`);
const equal = (where, found, wanted) => {
  if (JSON.stringify(found) !== JSON.stringify(wanted)) {
    fault(where, `${JSON.stringify(found).slice(0, 400)} and not ${JSON.stringify(wanted).slice(0, 400)}`);
  }
};

const workshop = mkdtempSync(path.join(tmpdir(), 'loafwright-book-'));
const recipes = path.join(workshop, 'recipes');
// A folder whose name would have to be coded in an address, so that only relative addresses work.
const site = path.join(workshop, 'a book, 100 %');
const address = (name) => pathToFileURL(path.join(site, name)).href;

/** The smallest picture that there is: one point, as PNG. */
const POINT = 'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M/wHwAEBgIApD5fRAAAAABJRU5ErkJggg==';

function build() {
  cpSync(path.join(here, '../../recipes'), recipes, { recursive: true });
  const file = path.join(recipes, 'ferry-rye.loaf');
  writeFileSync(file, `picture: point.png, one point\n${readFileSync(file, 'utf8').replace(/^picture:.*\n/m, '')}`);
  writeFileSync(path.join(recipes, 'point.png'), Buffer.from(POINT, 'base64'));
  mkdirSync(path.join(recipes, 'sub'));
  writeFileSync(path.join(recipes, 'sub', 'stranger.loaf'), 'title: <b>Zürich</b> شاي\nmakes: 3 rolls of 90 g\n'
    + 'tags: odd & even, "quoted"\ndough:\n  100 % bread flour\n  61.7 % water\n  2 % salt\n  40 min bake at 230 C\n'
    + 'variation without the old starter for people who have only yeast in the house:\n  1 % instant yeast\n'
    + 'notes:\n  | flour | water |\n  |---|---|\n  | 1 | 2 |\n');
  writeFileSync(path.join(recipes, 'sub', 'long.loaf'), `title: ${'A title that is longer than any window '.repeat(4)}\nmakes: 3 rolls of 90 g\n`
    + 'tags: שבת, challah\ndough:\n  100 % bread flour\n  61.7 % water\n  2 % salt\n  40 min bake at 230 C\n');
  NAMED.forEach(([language, makes], at) => {
    writeFileSync(path.join(recipes, 'sub', `named-${at}.loaf`), `title: Named ${at}\nlanguage: ${language}\nmakes: ${makes} of 400 g\n`
      + 'dough:\n  100 % bread flour\n  60 % water\n  2 % salt\n  40 min bake at 230 C\n');
  });
  execFileSync(program, ['build', recipes, '--out', site, '--paper', 'a4,a5'], { stdio: 'ignore' });
}

const sheet = (name, ...words) => JSON.parse(execFileSync(program,
  ['sheet', path.join(recipes, `${name}.loaf`), '--json', ...words], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] }));

/** Writes a weight as the page does; nothing where the scales do not show it well. */
function grams(line) {
  const { weight_g: exact, scale_weight_g: scale } = line;
  if (scale === undefined || exact > 0 && Math.abs(exact - scale) * 10 > exact) return null;
  const [whole, part] = String(scale).split('.');
  const digits = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, ' ') : whole;
  return `${part ? `${digits}.${part}` : digits} g`;
}

/** Says what every weighed line of a sheet is in grams, block by block. */
const sheetGrams = (document) => document.sheet.blocks.map((block) =>
  block.lines.filter((line) => line.weight_g !== undefined).map(grams));

/** Says what the lists of a page show, block by block. */
const pageGrams = (page) => page.locator('.formula table').evaluateAll((tables) =>
  tables.map((table) => [...table.tBodies[0].rows].map((row) => row.cells[0].textContent.replace(/[\u00a0\u202f]/g, ' '))));

/** What the pieces of the shipped recipes are called, one and several. */
const NAMES = [
  ['loaf', 'loaves'], ['roll', 'rolls'], ['round', 'rounds'], ['stick', 'sticks'], ['bun', 'buns'], ['bagel', 'bagels'],
  ['flat', 'flats'], ['tray', 'trays'],
];

/** Says what a page is to call so many pieces. */
function called(piece, count) {
  const forms = NAMES.find((forms) => forms.includes(piece));
  return forms?.[count === 1 ? 0 : 1] ?? `(${piece} is not in the list of this test)`;
}

/** Compares what a page shows with a sheet; where the scales say nothing the page's own figure stands. */
async function compare(where, page, document) {
  const shown = await pageGrams(page);
  const wanted = sheetGrams(document).map((block, at) => block.map((weight, line) => weight ?? shown[at]?.[line]));
  equal(where, shown, wanted);
  const { count, piece } = document.sheet.makes;
  const makes = plain(await page.locator('#version .makes').textContent());
  if (document.sheet.makes.stated && !makes.startsWith(`${count} ${called(piece, count)} `)) {
    fault(where, `${makes} and not ${count} ${called(piece, count)}`);
  }
}

/** Every weight in the steps is one of the lists above it. */
async function stepsAgree(where, page) {
  const [lists, steps] = await Promise.all(['.formula .w', '#version .in b'].map((place) => page.locator(place).allTextContents()));
  for (const weight of steps.filter(Boolean)) {
    if (!lists.includes(weight)) fault(where, `a step has ${weight}, no list has`);
  }
}

async function chooseEverything(browser, name) {
  const page = await browser.newPage();
  const requests = [];
  page.on('request', (request) => requests.push(request.url()));
  page.on('pageerror', (error) => fault(name, error.message));
  page.on('console', (message) => { if (message.type() === 'error') fault(name, message.text()); });
  await page.goto(address(`${name}.read.html`));
  await page.locator('input[name=unit][value=g], input[name=unit][value=kg]').first().check({ force: true });
  const plainSheet = sheet(name);
  await compare(`${name} as written`, page, plainSheet);
  const piece = plainSheet.sheet.makes.piece || 'batches';
  for (const count of ['1', '7', '48', '13']) {
    await page.locator('#pieces').fill(count);
    await compare(`${name}, ${count} pieces`, page, sheet(name, '--makes', `${count} ${piece}`));
    await stepsAgree(`${name}, ${count} pieces`, page);
  }
  const variations = plainSheet.variations.map((variation) => variation.name);
  for (const variation of variations) {
    await page.locator('#variation').selectOption({ label: variation[0].toUpperCase() + variation.slice(1) });
    await compare(`${name}, ${variation}`, page, sheet(name, '--variation', variation, '--makes', `13 ${piece}`));
    await stepsAgree(`${name}, ${variation}`, page);
  }
  await reload(name, page);
  if (requests.some((url) => !url.startsWith('file:'))) fault(name, `asks for ${requests.join(', ')}`);
  await page.close();
}

/** Ounces and degrees Fahrenheit; the choice outlives a reload, and what is printed is what is shown. */
async function reload(name, page) {
  await page.locator('input[name=unit][value=oz], input[name=unit][value=lb]').first().check({ force: true });
  await page.locator('input[name=scale][value=f]').check({ force: true });
  const look = () => page.evaluate(() => document.querySelector('main').innerText);
  const before = await look();
  const numbers = await page.locator('.formula .w, #version .in b, #version .makes, #version .facts dd').allTextContents();
  const grams = numbers.find((text) => /\d\s(g|kg)(?! *<|\w)/.test(text) && !/gram/.test(text));
  if (grams) fault(name, `grams are left among ounces: ${grams}`);
  const warm = await page.locator('#version .method [data-n=c]:visible').count();
  if (warm) fault(name, 'degrees Celsius are left among Fahrenheit');
  await page.reload();
  equal(`${name} after a reload`, await look(), before);
  const pdf = path.join(workshop, `${name}.pdf`);
  await page.pdf({ path: pdf });
  const onPaper = printed(pdf).words.map(({ text }) => plain(text)).join('').replaceAll(' ', '');
  for (const weight of await page.locator('.formula .w').allTextContents()) {
    if (!onPaper.includes(plain(weight).replaceAll(' ', ''))) fault(name, `${weight} is shown and not printed`);
  }
  if (await page.locator('.formula .o').first().isVisible()) fault(name, 'the other unit stands beside the chosen one');
}

/** Without its script a page has every weight in both systems, and nothing that does nothing. */
async function withoutScript(browser, name) {
  const context = await browser.newContext({ javaScriptEnabled: false });
  const page = await context.newPage();
  await page.goto(address(`${name}.read.html`));
  const document = sheet(name);
  if ((document.recipe.units[0] ?? 'g') === 'g') await compare(`${name} without its script`, page, document);
  if (await page.locator('#choose').isVisible()) fault(name, 'choices are shown that do nothing');
  if (!(await page.locator('.formula .o').first().isVisible())) fault(name, 'the second unit is missing');
  await context.close();
}

/** Recipes whose pieces other languages name, or nobody knows: language, what it makes, and what so many are called. */
const NAMED = [
  ['en', '3 moons', [['3', 'moons'], ['1', 'piece'], ['5', 'pieces'], ['3', 'moons']]],
  ['de', '2 Roggenbrote', [['2', 'Roggenbrote'], ['1', 'Roggenbrot'], ['1.5', 'Roggenbrote']]],
  ['de', '4 kleine Zöpfe', [['4', 'kleine Zöpfe'], ['1', 'Stück'], ['2', 'Stück']]],
  ['fr', '2 pains de campagne', [['2', 'pains de campagne'], ['1', 'pain de campagne'], ['1.5', 'pain de campagne']]],
  ['nl', '2 broden', [['2', 'broden'], ['1', 'piece']]],
];

/** The name of the pieces follows their number, in the text and beside the field. */
async function pieceNames(browser) {
  const page = await browser.newPage();
  page.on('pageerror', (error) => fault('names', error.message));
  for (const [at, [, , wanted]] of NAMED.entries()) {
    await page.goto(address(`sub/named-${at}.read.html`));
    const shown = async () => [
      plain(await page.locator('#version .makes').textContent()).split(/ (?:of|zu|de) [0-9]/)[0],
      await page.locator('.pieces bdi').textContent(),
    ];
    const [[, first]] = wanted;
    equal(`as written, ${first}`, (await shown())[1], first);
    for (const [count, name] of wanted) {
      await page.locator('#pieces').fill(count);
      const number = plain(await page.locator('#version .makes [data-n^=n]').textContent());
      equal(`${count} ${name}`, await shown(), [`${number} ${name}`, name]);
    }
  }
  await page.close();
}

async function index(browser) {
  const page = await browser.newPage();
  page.on('pageerror', (error) => fault('index', error.message));
  await page.goto(address('index.html'));
  const rows = () => page.locator('#rows > li:visible > a').allTextContents();
  const all = await rows();
  await page.locator('#words').fill('ZURICH');
  equal('found without accents', await rows(), ['<b>Zürich</b> شاي']);
  await page.locator('#words').fill('caraway');
  const caraway = await rows();
  if (caraway.length === 0 || caraway.length === all.length) fault('index', `caraway finds ${caraway.length} of ${all.length}`);
  await page.locator('#words').fill('no such bread');
  equal('nothing is found', [await rows(), await page.locator('#count').textContent()], [[], 'No bread has all of that.']);
  await page.locator('#words').fill('');
  await page.locator('#tag').selectOption('rye');
  const rye = await rows();
  if (rye.length === 0 || rye.length === all.length) fault('index', `the tag rye finds ${rye.length} of ${all.length}`);
  await page.reload();
  equal('the tag outlives a reload', await rows(), rye);
  await page.locator('#rows > li:visible > a').first().click();
  await page.waitForSelector('h1');
  if (!page.url().endsWith('.read.html#') && !page.url().endsWith('.read.html')) fault('index', `leads to ${page.url()}`);
  await page.locator('a[rel=next]').click();
  await page.locator('a[rel=prev]').click();
  await page.locator('.way a').click();
  equal('back in the index', (await rows()).length, all.length);
  await page.locator('.cards a').first().click();
  if (!/[a-z]\.html$/.test(page.url())) fault('index', `a card to print leads to ${page.url()}`);
  await page.close();
}

async function judge(browser) {
  const names = ['index.html', 'ferry-rye.read.html', 'lantern-milk-tin.read.html', 'sub/stranger.read.html'];
  const context = await browser.newContext({ bypassCSP: true });
  const page = await context.newPage();
  for (const name of names) {
    await page.goto(address(name));
    for (const look of [['screen', 'light'], ['screen', 'dark'], ['print', 'light'], ['print', 'dark']]) {
      for (const width of [390, 1280]) {
        await page.setViewportSize({ width, height: 900 });
        await page.emulateMedia({ media: look[0], colorScheme: look[1] });
        const { violations } = await new AxeBuilder({ page }).withTags(RULES).analyze();
        violations.forEach(({ id, help, nodes }) => fault(`${name} (${look.join(', ')}, ${width})`, `${id}: ${help}: ${nodes[0].html.slice(0, 120)}`));
        const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
        if (look[0] === 'screen' && wide > 0) fault(name, `is ${wide} points wider than a screen of ${width}`);
      }
    }
  }
  await context.close();
  const validator = new HtmlValidate({ extends: ['html-validate:recommended'] });
  for (const name of readdirSync(site, { recursive: true }).filter((name) => /(^index|\.read)\.html$/.test(name))) {
    const report = await validator.validateFile(path.join(site, name));
    report.results.flatMap((result) => result.messages).forEach((message) => fault(name, `line ${message.line}: ${message.ruleId}: ${message.message}`));
  }
}

/** Everything can be reached and chosen by keyboard; letters alone do nothing. */
async function keyboard(browser) {
  const page = await browser.newPage();
  await page.goto(address('lantern-milk-tin.read.html'));
  const reached = [];
  for (let turn = 0; turn < 16; turn += 1) {
    await page.keyboard.press('Tab');
    reached.push(await page.evaluate(() => document.activeElement.id || document.activeElement.name || document.activeElement.tagName));
  }
  for (const id of ['pieces', 'fewer', 'more', 'unit', 'scale', 'variation', 'print']) {
    if (!reached.includes(id) && !(id === 'print' && reached.includes('BUTTON'))) fault('keyboard', `${id} is not reached: ${reached}`);
  }
  await page.evaluate(() => document.activeElement.blur());
  const before = await page.content();
  for (const key of ['j', 'k', 's', '/', 'ArrowLeft']) await page.keyboard.press(key);
  equal('bare letters', await page.content() === before, true);
  await page.locator('#more').focus();
  await page.keyboard.press('Enter');
  equal('one more by keyboard', await page.locator('#pieces').inputValue(), '3');
  await page.close();
}

/** On paper the hours are dots that no word is struck out by, and the index has no links to other papers: a line a bread. */
async function onPaper(browser) {
  const page = await browser.newPage();
  await page.emulateMedia({ media: 'print' });
  await page.setViewportSize({ width: 700, height: 900 });
  await page.goto(address('ferry-rye.read.html'));
  const looks = await page.evaluate(() => ['.hours', '.lane'].map((part) => getComputedStyle(document.querySelector(`svg ${part}`))).map((style) => [style.strokeDasharray, style.paintOrder]));
  if (looks[0][0] === 'none') fault('on paper', 'the hours are solid lines');
  if (!looks[1][1].startsWith('stroke')) fault('on paper', 'the hours strike out the names of the lanes');
  await page.goto(address('index.html'));
  if (await page.locator('.cards:visible').count()) fault('index on paper', 'links to other papers are printed');
  const high = await page.locator('#rows > li').evaluateAll((rows) => rows.map((row) => row.getBoundingClientRect().height));
  const tall = high.filter((height) => height > 64);
  if (tall.length > 1) fault('index on paper', `${tall.length} of ${high.length} rows are taller than two lines`);
  await page.goto(address('index.html'));
  const tags = await page.evaluate(() => {
    const cells = [...document.querySelectorAll('.t')];
    return [...cells.find((cell) => cell.textContent.includes('challah')).children].map((tag) => tag.getBoundingClientRect().left);
  });
  if (!(tags[0] < tags[1])) fault('index', 'tags in two scripts stand in no order');
  await page.close();
}

async function picture(browser) {
  const page = await browser.newPage();
  page.on('console', (message) => { if (message.type() === 'error') fault('picture', message.text()); });
  await page.goto(address('ferry-rye.read.html'));
  const shown = await page.locator('figure img').evaluate((image) => [image.naturalWidth, image.alt]);
  equal('the picture', shown, [1, 'one point']);
  await page.close();
}

const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', args: FLAGS });
try {
  build();
  const names = readdirSync(recipes).filter((name) => name.endsWith('.loaf') && name !== 'bakehouse.loaf').map((name) => path.basename(name, '.loaf'));
  for (const name of names) {
    await chooseEverything(browser, name);
    await withoutScript(browser, name);
  }
  await picture(browser);
  await onPaper(browser);
  await pieceNames(browser);
  await keyboard(browser);
  await index(browser);
  await judge(browser);
  console.log(`${names.length} recipes chosen from, ${faults.length} faults`);
} finally {
  await browser.close();
  rmSync(workshop, { recursive: true, force: true });
}
faults.slice(0, 60).forEach((line) => console.error(line));
process.exitCode = faults.length ? 1 : 0;
