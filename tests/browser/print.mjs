// Every shipped recipe printed on every paper, and the print taken apart: size, margins, number of pages, weights,
// and that nothing is cut by the end of a page. Owns what a print must be; how a PDF is read stands in pdf.mjs.
import { execFileSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { plain, printed } from './pdf.mjs';

const MM = 72 / 25.4;
const IN = 72;
// `whole` is the page on which formula, steps and time line have ended, `body` the least size of the letters.
export const PAPERS = [
  { slug: 'a4', width: 210 * MM, height: 297 * MM, margins: [11, 14, 12, 14], whole: 1, body: 11 },
  { slug: 'letter', width: 8.5 * IN, height: 11 * IN, margins: [8.5, 14, 9, 14], whole: 1, body: 11 },
  { slug: 'a5', width: 148 * MM, height: 210 * MM, margins: [10, 11, 10, 11], whole: 2, body: 11 },
  { slug: 'half-letter', width: 5.5 * IN, height: 8.5 * IN, margins: [10, 9, 11, 9], whole: 2, body: 11 },
  { slug: 'a6', width: 105 * MM, height: 148 * MM, margins: [9, 7, 8, 7], body: 9 },
  { slug: '4x6', width: 4 * IN, height: 6 * IN, margins: [9, 6, 8, 6], body: 9 },
  { slug: '5x8', width: 5 * IN, height: 8 * IN, margins: [10, 8, 9, 8], body: 9 },
];

/** What may stand on one page only: rows, steps, cautions, the foot; headings go with what follows them. */
const UNITS = 'tr, .steps > li, .care p, .care li, .remark, .kept, .outside, .facts dl > div, .records p, footer';
const HEADS = 'h1, h2:not(.quiet), h3';

/** Builds the shipped recipes for every paper; gives the pages as { file, name, paper }. */
export function build(program, recipes, cards) {
  const slugs = PAPERS.map((paper) => paper.slug);
  execFileSync(program, ['build', recipes, '--out', cards, '--paper', slugs.join(',')], { stdio: ['ignore', 'ignore', 'inherit'] });
  const files = readdirSync(cards, { recursive: true }).filter((file) => /^(?!.*index).*\.html$/.test(file)).sort();
  // What is on no paper of its own in the name is on the first; a page for the screen has a name of its own too.
  return files.flatMap((file) => {
    const [name, slug = 'a4'] = file.replace(/\.html$/, '').split('.');
    const paper = PAPERS.find((paper) => paper.slug === slug);
    return paper ? [{ file: path.join(cards, file), name, paper }] : [];
  });
}

/** Prints the cards one after the other in one window of a browser. */
export async function printAll(browser, program, recipes, cards, workshop, fault) {
  // A policy that lets nothing run would keep out the marks too that are set below.
  const context = await browser.newContext({ bypassCSP: true });
  const page = await context.newPage();
  const requests = [];
  await page.emulateMedia({ media: 'print' });
  page.on('request', (request) => requests.push(request.url()));
  const weights = new Map();
  let sheets = 0;
  for (const { file, name, paper } of cards) {
    if (!weights.has(name)) weights.set(name, sheetWeights(program, path.join(recipes, `${name}.loaf`)));
    const told = (what) => fault(`${name} on ${paper.slug}`, what);
    requests.length = 0;
    await page.goto(pathToFileURL(file).href);
    const pdf = path.join(workshop, 'card.pdf');
    const seen = await page.evaluate(mark, [UNITS, HEADS]);
    await page.pdf({ path: pdf, preferCSSPageSize: true });
    if (requests.length !== 1) told(`asks for ${requests.slice(1).join(', ')}`);
    const print = printed(pdf);
    const marks = takeMarks(print);
    checkPages(told, print, paper);
    checkMargins(told, print, paper);
    checkLetters(told, seen, paper);
    checkWeights(told, print, [...seen.weights, ...weights.get(name)]);
    checkCuts(told, seen, marks);
    checkPromise(told, seen, marks, paper);
    sheets += print.pages.length;
  }
  await context.close();
  return sheets;
}

/** Sets a mark that takes hardly any room at both ends of what must not be cut, and reads what the card shows. Runs in the page. */
function mark([units, heads]) {
  const spot = (text) => {
    const span = document.createElement('span');
    span.style.cssText = 'font-size:2px;line-height:0;padding:0;margin:0;white-space:nowrap;overflow-wrap:normal';
    span.textContent = text;
    return span;
  };
  const deepest = (element, end) => {
    const child = end ? element.lastElementChild : element.firstElementChild;
    return child && !['BR', 'TIME'].includes(child.tagName) && getComputedStyle(child).display !== 'inline'
      && (end ? child.nextSibling === null || !child.nextSibling.textContent.trim() : true)
      && !child.classList.contains('box') ? deepest(child, end) : element;
  };
  const style = (element) => getComputedStyle(element);
  const grey = [...document.querySelectorAll('body, body *')].filter((element) => {
    const { color, backgroundColor, borderBottomColor, borderBottomWidth, fill, stroke } = style(element);
    const inks = [color, backgroundColor, fill, stroke, ...(parseFloat(borderBottomWidth) ? [borderBottomColor] : [])];
    return inks.some((ink) => /^rgb/.test(ink) && !['rgb(0, 0, 0)', 'rgb(255, 255, 255)', 'rgba(0, 0, 0, 0)'].includes(ink));
  });
  const points = (selector) => [...document.querySelectorAll(selector)].map((element) => parseFloat(style(element).fontSize) * 0.75);
  const texts = (selector) => [...document.querySelectorAll(selector)].map((element) => element.textContent);
  const scale = document.querySelector('svg')?.getScreenCTM().a ?? 0;
  const drawn = points('svg text').map((size) => size * scale);
  const look = {
    grey: grey.slice(0, 3).map((element) => element.outerHTML.slice(0, 80)),
    body: points('body, .do, .do b, .in b, .prose p, .list .w b, .care p, .care li, .about p'),
    small: [...points('main *:not(svg, svg *), footer *'), ...drawn],
    weights: texts('.w b, .t span, .in b, .outside b, .kept, .o small, .w small'),
  };
  const found = [...document.querySelectorAll(`${units}, ${heads}`)].map((element, place) => {
    const text = element.textContent.replace(/\s+/g, ' ').trim().slice(0, 60);
    const follows = element.matches(heads);
    const part = element.closest('.formula, .method')?.className ?? '';
    const ends = [spot(`Q${place}a`), spot(`Z${place}qq`)];
    deepest(element, false).prepend(ends[0]);
    deepest(element, true).append(ends[1]);
    if (follows) deepest(element.nextElementSibling, false).prepend(spot(`Q${place}n`));
    return { place, text, follows, part };
  });
  const [drawing] = document.querySelectorAll('svg');
  if (drawing) {
    // It begins with the name of a lane and ends with the last words of its key.
    const ends = [drawing.querySelector('.lane'), [...drawing.querySelectorAll('.l')].pop()];
    ends.forEach((end, last) => {
      const span = document.createElementNS(end.namespaceURI, 'tspan');
      span.style.fontSize = '.5px';
      span.textContent = last ? `Z${found.length}qq` : `Q${found.length}a`;
      if (last) end.append(span);
      else end.prepend(span);
    });
    found.push({ place: found.length, text: 'the time line', follows: false, part: 'time' });
  }
  return { ...look, found };
}

/** Takes the marks out of the words of a print; gives where each one stands. */
function takeMarks(print) {
  const marks = new Map();
  for (const word of print.words) {
    // The filler at an end may fall over the edge of the page.
    word.text = word.text.replace(/([QZ]\d+[an]?)q*/g, (_, found) => {
      // The head of a table stands again on every sheet that the table goes on to; the first one counts.
      if (!found.endsWith('n') || !marks.has(found)) marks.set(found, word);
      return '';
    });
  }
  print.words = print.words.filter((word) => word.text);
  return marks;
}

function checkPages(told, print, paper) {
  for (const { width, height } of print.pages) {
    if (Math.abs(width - paper.width) > 1 || Math.abs(height - paper.height) > 1) told(`a page measures ${width} x ${height} points`);
  }
  print.pages.forEach((_, place) => {
    const count = `${place + 1}of${print.pages.length}`;
    const last = print.words.filter((word) => word.page === place && word.top > paper.height - paper.margins[2] * MM - 3);
    if (last.map((word) => word.text).join('') !== count) told(`page ${place + 1} does not say “${count}”`);
    const head = print.words.filter((word) => word.page === place && word.bottom < paper.margins[0] * MM + 4);
    if (place > 0 && !head.length) told(`page ${place + 1} does not repeat the title`);
  });
}

/** Every word stands between the margins, but for the running title and the page number. */
export function checkMargins(told, print, paper) {
  const [top, right, bottom, left] = paper.margins.map((margin) => margin * MM);
  for (const word of print.words) {
    // A box is as high as the letters of its font can be, which is more than these letters are.
    const slack = (word.bottom - word.top) / 3;
    const isBeside = word.left < left - 2 || word.right > paper.width - right + 2;
    const isAbove = word.top < top - slack && word.bottom > top + slack;
    const isBelow = word.bottom > paper.height - bottom + slack && word.top < paper.height - bottom - slack;
    if (isBeside || isAbove || isBelow) told(`“${word.text}” stands in the margin of page ${word.page + 1}`);
  }
}

function checkLetters(told, seen, paper) {
  const least = Math.min(...seen.body);
  if (least < paper.body - 0.01) told(`letters of ${least} points, not ${paper.body}`);
  const small = Math.min(...seen.small);
  if (small < 7.5) told(`small letters of ${small} points`);
  for (const html of seen.grey) told(`neither black nor white: ${html}`);
}

/** Every weight of the card and of the sheet stands in the print. */
function checkWeights(told, print, weights) {
  const text = plain(print.words.map((word) => word.text).join(' '));
  for (const weight of new Set(weights.map(plain))) {
    if (weight && !stands(text, weight)) told(`${weight} is not in the print`);
  }
}

/** Says whether a weight stands in a text, the spaces that a reader of PDF takes for none aside. */
function stands(text, weight) {
  const bare = (words) => words.replaceAll(' ', '');
  const place = bare(text).indexOf(bare(weight));
  return place >= 0 && (place === 0 || text.includes(weight) || !/[\d.]/.test(bare(text)[place - 1]));
}

/** No row and no step goes over the end of a page or a column, and no heading is parted from what follows. */
function checkCuts(told, seen, marks) {
  for (const { place, text, follows } of seen.found) {
    const [first, last] = [marks.get(`Q${place}a`), marks.get(`Z${place}`)];
    if (!first || !last) {
      told(`“${text}” is not in the print`);
    } else if (first.page !== last.page || last.bottom < first.top) {
      told(`“${text}” is cut by the end of page ${first.page + 1}`);
    }
    const next = marks.get(`Q${place}n`);
    if (follows && last && (!next || next.page !== last.page || next.top < last.top - 2)) told(`“${text}” stands apart from what follows`);
  }
}

/** Formula, steps and time line end on the page that is promised for the paper. */
function checkPromise(told, seen, marks, paper) {
  if (!paper.whole) return;
  const late = seen.found.filter(({ place, part }) => part && (marks.get(`Z${place}`)?.page ?? 0) >= paper.whole);
  for (const { text } of late.slice(0, 1)) told(`“${text}” stands after page ${paper.whole}`);
}

/** Lists what the scales show for every line, as a card writes it. */
function sheetWeights(program, recipe) {
  const document = JSON.parse(execFileSync(program, ['sheet', recipe, '--json'], { encoding: 'utf8' }));
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
