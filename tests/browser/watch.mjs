// Judges the page beside the editor from outside: a real browser holds pages open while recipes are saved, broken,
// mended, renamed and removed. Usage: LOAFWRIGHT=PROGRAM node tests/browser/watch.mjs
//
// Prints how long it takes from a save to the painted page; that passes or fails nothing.
import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const here = path.dirname(fileURLToPath(import.meta.url));
const require = createRequire(path.join(process.env.NODE_PATH ?? here, 'here.js'));
const { chromium } = require('playwright-core');
const { AxeBuilder } = require('@axe-core/playwright');

const FLAGS = [
  '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync',
];
const SAVES = 20;
const faults = [];
const expect = (holds, what) => { if (!holds) faults.push(what); };
const pause = (time) => new Promise((done) => { setTimeout(done, time); });

const bread = (title, water, more = '') => `title: ${title}\nmakes: 2 loaves of 860 g\n\nabout:\n  A bread.\n\ndough:\n`
  + `  100 %   bread flour\n  ${water} %    water\n  2 %     salt\n  2 %     fresh yeast\n  10 min  mix by hand\n`
  + `  2 h     bulk at 24 C\n  60 min  proof at 24 C\n  40 min  bake at 230 C\n${more}\n`
  + `notes:\n${'  A line of the notes.\n\n'.repeat(40)}`;

// Editors keep away from the system's own folder for passing files, and so does this.
mkdirSync(path.join(here, '../../target'), { recursive: true });
const book = mkdtempSync(path.join(here, '../../target/watched-'));
const save = (name, text) => writeFileSync(path.join(book, 'book', name), text);

/** Starts the program and waits for its address. */
function start(port) {
  const child = spawn(process.env.LOAFWRIGHT, ['watch', 'book', '--port', port, '--paper', 'a4,a5'], { cwd: book });
  let said = '';
  child.stderr.on('data', (text) => { said += text; });
  const address = new Promise((done, fail) => {
    child.stdout.on('data', (text) => done(String(text).trim()));
    child.on('exit', (code) => fail(new Error(`watch ended with ${code}: ${said}`)));
  });
  return { child, address, said: () => said };
}
const stop = ({ child }, signal) => new Promise((done) => { child.on('exit', done); child.kill(signal); });

/** Opens a page and notes all that goes wrong in it, and whether it is ever loaded anew. */
async function open(context, address) {
  const page = await context.newPage();
  page.on('pageerror', (error) => faults.push(`${address}: ${error}`));
  page.on('console', (message) => {
    // A server that is away is told of by the browser too.
    const isExpected = /ERR_CONNECTION_REFUSED|ERR_INCOMPLETE_CHUNKED|ERR_CONNECTION_RESET|favicon/.test(message.text() + message.location().url);
    if (message.type() === 'error' && !isExpected) faults.push(`${address}: ${message.text()}`);
  });
  await page.goto(address);
  await page.evaluate(() => { window.isTheSame = true; });
  return page;
}
const until = (page, what, holds, argument) => page.waitForFunction(holds, argument, { timeout: 5000, polling: 20 })
  .catch(async () => faults.push(`${what}: ${(await page.locator('body').innerText()).slice(0, 300)}`));
const shows = (text) => document.querySelector('main').innerText.replace(/\s/g, ' ').includes(text);
const notes = (text) => {
  const node = document.querySelector('.live-notes');
  return text === null ? node.hidden : !node.hidden && node.textContent.includes(text);
};
/** Where a line stands in the window: what is read stays where it is, also when the card grows above it. */
const placeOf = (page) => page.evaluate(() => window.node.isConnected && Math.round(window.node.getBoundingClientRect().top));
const isTheSame = (page) => page.evaluate(() => window.isTheSame === true);

async function saves(context, address) {
  const page = await open(context, `${address}rye.html`);
  const small = await open(context, `${address}rye.a5.html`);
  const others = await Promise.all([1, 2, 3, 4, 5, 6].map(() => open(context, `${address}rye.html`)));
  const index = await open(context, address);
  await page.evaluate(() => window.scrollTo(0, 600));
  await page.evaluate(() => { window.node = document.querySelector('.notes p'); });
  expect(await page.evaluate(() => window.scrollY) > 100, 'the card is long enough to scroll');
  const place = await placeOf(page);
  const before = await page.locator('.formula').innerText();
  save('rye.loaf', bread('Rye', 71));
  for (const one of [page, small, ...others]) await until(one, 'a save reaches every page', shows, '71 %');
  expect(before !== await page.locator('.formula').innerText(), 'the figures follow a save');
  const marks = await page.locator('.live-changed').evaluateAll((all) => all.map((one) => ({
    text: one.textContent, line: getComputedStyle(one).outlineStyle,
  })));
  expect(marks.some(({ text }) => text.includes('71')), `what changed is marked: ${JSON.stringify(marks)}`);
  expect(marks.every(({ line }) => line === 'dashed'), `a mark is more than a colour: ${JSON.stringify(marks)}`);
  expect(!marks.some(({ text }) => text.includes('230')), `what stayed is not marked: ${JSON.stringify(marks)}`);
  expect(/changed in \d+ place/.test(await page.locator('.live-said').textContent()), 'a screen reader is told');
  await until(page, 'the marks go', () => document.querySelectorAll('.live-changed').length === 0);
  expect(await placeOf(page) === place, 'a save keeps the place on the page');
  for (const one of [page, small, ...others, index]) expect(await isTheSame(one), 'no page is loaded anew');
  save('rye.loaf', bread('Rye two', 71));
  await until(index, 'the index follows', shows, 'Rye two');
  await until(page, 'the title follows', () => document.title === 'Rye two');
  for (const one of others) await one.close();
  return { page, small, index };
}

/** What a reader has chosen is kept, and the figures follow at that size and in that unit. */
async function reads(context, address) {
  const page = await open(context, `${address}wheat.read.html`);
  const index = await open(context, address);
  await index.locator('#words').fill('wheat');
  await page.locator('#more').click();
  await page.locator('#more').click();
  await page.locator('[name="unit"][value="oz"]').check({ force: true });
  const weights = () => page.locator('.formula').first().innerText();
  const before = await weights();
  expect(/oz|lb/.test(before), `the page shows the chosen unit: ${before}`);
  save('wheat.loaf', bread('Wheat', 69));
  await until(page, 'a save reaches the page for readers', shows, '69 %');
  const chosen = await page.evaluate(() => [document.querySelector('#pieces').value,
    document.querySelector('[name="unit"]:checked').value]);
  expect(`${chosen}` === '4,oz', `choices are kept: ${chosen}`);
  const after = await weights();
  expect(after !== before && /oz|lb/.test(after), `figures follow in the chosen unit: ${after}`);
  const marks = await page.locator('.live-changed').allTextContents();
  expect(marks.length > 0 && !marks.some((text) => /230|salt/.test(text) && text.length < 12), `marks: ${marks}`);
  // What the page shows is what it would show if it were opened anew.
  const anew = await context.newPage();
  await anew.goto(page.url());
  expect(await anew.locator('.formula').first().innerText() === after, 'a page that follows is as one opened anew');
  await anew.close();
  save('wheat.loaf', bread('Wheat two', 69, '\nvariation salty:\n  2.2 %  salt\n'));
  await until(page, 'a new variation can be chosen', () => document.querySelectorAll('#variation option').length === 2);
  await page.locator('#variation').selectOption({ index: 1 });
  await until(page, 'and is shown', shows, '2.2 %');
  save('wheat.loaf', bread('Wheat two', 70, '\nvariation salty:\n  2.4 %  salt\n'));
  await until(page, 'a variation follows too', shows, '2.4 %');
  expect(await page.locator('#variation').evaluate((one) => one.selectedIndex) === 1, 'the chosen variation is kept');
  await until(index, 'the index follows', shows, 'Wheat two');
  expect(await index.locator('#words').inputValue() === 'wheat', 'what is sought is kept');
  expect(await index.locator('#rows > li:visible').count() === 1, 'and still sought');
  for (const one of [page, index]) {
    expect(await isTheSame(one), 'no page is loaded anew');
    await one.close();
  }
}

/** Judges the notes of a page, in the light and in the dark. */
async function judge(browser, address) {
  for (const colorScheme of ['light', 'dark']) {
    const context = await browser.newContext({ bypassCSP: true, colorScheme });
    const page = await context.newPage();
    await page.goto(address);
    await until(page, 'the fault is there to be judged', notes, 'rye.loaf:9:');
    const { violations } = await new AxeBuilder({ page }).include('.live-notes')
      .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa', 'best-practice']).analyze();
    violations.forEach(({ id, help }) => faults.push(`the notes (${colorScheme}): ${id}: ${help}`));
    await context.close();
  }
}

async function breaks(browser, address, { page, index }, watch) {
  const place = await placeOf(page);
  save('rye.loaf', bread('Rye two', '<b>q</b>'));
  await until(page, 'a fault shows over the card', notes, 'rye.loaf:9:');
  const [shown] = await page.locator('.live-notes pre').allTextContents();
  const said = watch.said();
  expect(shown && said.includes(shown.trim()), `page and terminal say the same: ${shown} / ${said}`);
  expect(shown.includes('= help:'), `the mend is there: ${shown}`);
  expect(await page.locator('.live-notes b').count() === 0, 'a fault is plain text');
  expect(await page.evaluate(shows, '71 %'), 'the last good card stays');
  await until(index, 'the index tells of a recipe without a card', notes, 'rye.loaf:9:');
  await judge(browser, `${address}rye.html`);
  save('rye.loaf', bread('Rye two', 70));
  await until(page, 'the mended card comes', shows, '70 %');
  await until(page, 'the fault goes', notes, null);
  await until(index, 'the fault goes from the index', notes, null);
  expect(await placeOf(page) === place, 'a fault keeps the place on the page');
  expect(await isTheSame(page), 'a fault loads nothing anew');
}

async function newcomer(context, address) {
  save('new.loaf', bread('New', 'x'));
  await pause(600);
  const page = await open(context, `${address}new.html`);
  await until(page, 'a recipe that never had a card shows its fault', notes, 'new.loaf:9:');
  save('new.loaf', bread('New', 65));
  await until(page, 'and its card when it is mended', shows, '65 %');
  await until(page, 'and the fault goes', notes, null);
  await page.close();
}

async function restarts({ page }, watch, port) {
  await stop(watch, 'SIGKILL');
  await until(page, 'a lost connection shows', notes, 'does not answer');
  save('rye.loaf', bread('Rye two', 74));
  const next = start(port);
  await next.address;
  await until(page, 'and heals, with what was saved meanwhile', shows, '74 %');
  await until(page, 'and is no longer shown', notes, null);
  return next;
}

async function renames({ page, small }) {
  const place = await placeOf(page);
  renameSync(path.join(book, 'book/rye.loaf'), path.join(book, 'book/dark.loaf'));
  await until(page, 'a renamed recipe says so', notes, 'another name');
  await until(small, 'also on its other paper', notes, 'another name');
  expect(await page.locator('.live-notes a').getAttribute('href') === '/dark.html', 'and leads to its new page');
  expect(await placeOf(page) === place, 'a rename keeps the place on the page');
  await page.locator('.live-notes a').click();
  await until(page, 'the new page is there', shows, '74 %');
  rmSync(path.join(book, 'book/dark.loaf'));
  await until(page, 'a removed recipe says so', notes, 'is gone');
  save('dark.loaf', bread('Dark', 75));
  await until(page, 'and comes back', shows, '75 %');
  await until(page, 'without a word more', notes, null);
}

/** The time from the end of a save to the frame in which the new figure is painted. */
async function times({ page }) {
  const taken = [];
  await page.bringToFront();
  for (let round = 0; round < SAVES; round += 1) {
    const water = 60 + (round % 15) + 0.5;
    const painted = page.evaluate((figure) => new Promise((done) => {
      const look = () => (document.querySelector('main').textContent.replace(/\s/g, ' ').includes(figure)
        ? requestAnimationFrame(() => setTimeout(() => done(Date.now()), 0)) : requestAnimationFrame(look));
      look();
    }), `${water} %`);
    await pause(300);
    save('dark.loaf', bread('Dark', water));
    const saved = Date.now();
    taken.push(await painted - saved);
  }
  taken.sort((left, right) => left - right);
  console.log(`from a save to the painted page: ${taken[SAVES / 2]} ms in the middle, ${taken.at(-1)} ms at most`);
}

async function main() {
  mkdirSync(path.join(book, 'book'));
  save('rye.loaf', bread('Rye', 68));
  save('wheat.loaf', bread('Wheat', 66));
  let watch = start('0');
  const address = await watch.address;
  const { port } = new URL(address);
  const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium', args: FLAGS });
  try {
    const context = await browser.newContext();
    const pages = await saves(context, address);
    await reads(context, address);
    await breaks(browser, address, pages, watch);
    await newcomer(context, address);
    watch = await restarts(pages, watch, port);
    await renames(pages);
    await times(pages);
    const file = readFileSync(path.join(book, 'cards/dark.html'), 'utf8');
    expect(!file.includes('<script data-version'), 'the files hold no live script');
  } finally {
    await browser.close();
    const code = await stop(watch, 'SIGINT');
    expect(code === 130, `Ctrl-C ends it with ${code}`);
    rmSync(book, { recursive: true, force: true });
  }
  console.log(`pages beside the editor: ${faults.length} faults`);
  [...new Set(faults)].forEach((line) => console.error(line));
  process.exitCode = faults.length ? 1 : 0;
}

await main();
