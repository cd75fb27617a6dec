// What a reader chooses on a page: how many pieces, which unit, which scale of degrees, which variation.
//
// The amounts come exact from the compiler, as fractions in text. They are worked out in whole numbers that do
// not overflow, and rounded as the compiler rounds: a test holds the two equal. Nothing of a recipe is ever read
// as markup, and nothing is loaded.

'use strict';

const ONE = 1000000n;
const TIE = '\u00a0';

// Fractions: a pair of numerator and denominator, the denominator above nought. Nothing here is below nought.
const ratio = (text) => {
  const [numerator, denominator = '1'] = text.split('/');
  return [BigInt(numerator), BigInt(denominator)];
};
const times = ([a, b], [c, d]) => [a * c, b * d];
const over = ([a, b], [c, d]) => [a * d, b * c];
const plus = ([a, b], [c, d]) => [a * d + c * b, b * d];
const compare = ([a, b], [c, d]) => (a * d < c * b ? -1 : Number(a * d > c * b));
const nearest = ([a, b]) => (2n * a + b) / (2n * b);

const isAvoirdupois = (unit) => unit === 'oz' || unit === 'lb';
const sum = (parts) => parts.reduce((all, part) => all + part, 0n);

// Counts grams in millionths of a gram or, for the avoirdupois units, of an ounce.
const millionths = (unit, grams) =>
  nearest(times(grams, isAvoirdupois(unit) ? [1600000n * ONE, 45359237n] : [ONE, 1n]));

const toStep = (exact, step) => ((exact + step / 2n) / step) * step;

const isLost = (exact, shown) => {
  const apart = compare(exact, shown) < 0 ? minus(shown, exact) : minus(exact, shown);
  return compare(times(apart, [10n, 1n]), exact) > 0;
};

// Rounds to two digits that count, or to tenths from one up.
function twoDigits(exact) {
  let digits = 10n;
  while (digits < ONE && compare(times(exact, [digits, 1n]), [10n, 1n]) < 0) digits *= 10n;
  return [nearest(times(exact, [digits, 1n])), digits];
}

// Rounds a weight that no scale has to show.
function settleAlone(unit, exact) {
  let step = ONE / 100n;
  if (isAvoirdupois(unit)) step = ONE / 20n;
  else if (exact >= 100n * ONE) step = ONE;
  else if (exact >= 10n * ONE) step = ONE / 10n;
  const settled = toStep(exact, step);
  const fine = () => nearest(times(twoDigits([exact, ONE]), [ONE, 1n]));
  return isLost([exact, ONE], [settled, ONE]) ? fine() : settled;
}

// Counts a part of a number in steps, halves down.
const floor = ([a, b]) => (a < 0n ? -((b - 1n - a) / b) : a / b);
const halfDown = ([a, b]) => -floor([b - 2n * a, 2n * b]);
const minus = ([a, b], [c, d]) => [a * d - c * b, b * d];
const all = (parts) => parts.reduce(plus, [0n, 1n]);

// Moves so many of the parts at some places by a step, the heaviest first, if rounding had moved them the other way.
function moveSteps(parts, shown, places, missing) {
  const sign = missing < 0n ? -1n : 1n;
  places
    .filter((at) => compare(parts[at].exact, shown[at]) === Number(sign))
    .sort((left, right) => compare(parts[right].exact, parts[left].exact))
    .slice(0, Number(missing * sign))
    .forEach((at) => { shown[at] = plus(shown[at], times([sign, 1n], parts[at].step)); });
}

// Rounds parts, each to its step, so that they add up to a whole: the one that is given, else their sum rounded to
// the coarsest step. What is held does not move, and parts of a finer step keep their own sum.
function shareOut(parts, given) {
  const round = (value, step) => times([nearest(over(value, step)), 1n], step);
  const shown = parts.map(({ exact, step, held }) => held ?? round(exact, step));
  const steps = parts.map(({ step }) => step).sort(compare);
  if (!steps.length) return shown;
  const coarsest = steps.at(-1);
  const whole = given ?? round(all(parts.map(({ exact }) => exact)), coarsest);
  for (const step of steps.filter((step, at) => !at || compare(steps[at - 1], step))) {
    const places = parts.flatMap((part, at) => (part.held || compare(part.step, step) ? [] : [at]));
    const own = () => minus(round(all(places.map((at) => parts[at].exact)), step), all(places.map((at) => shown[at])));
    const missing = compare(step, coarsest)
      ? floor(over(own(), step))
      : halfDown(over(minus(whole, all(shown)), step));
    moveSteps(parts, shown, places, missing);
  }
  return shown;
}

// Gives the step of the scale that a weight is weighed on; the main scale comes first and has no limit.
function stepFor(weight, [main, ...finer]) {
  const fit = finer.filter(([, under]) => compare(weight, ratio(under)) < 0).map(([step]) => step);
  const finest = fit.sort((left, right) => compare(ratio(left), ratio(right)))[0];
  return finest ?? main[0];
}

// Gives a weight as a part to be rounded. What rounding would lose keeps two digits, and a stage in which nothing is
// left to round is poured as it rounds by itself.
function part(grams, unit, scales, isFixed) {
  const exact = isAvoirdupois(unit) ? [millionths(unit, grams), ONE] : grams;
  const step = isAvoirdupois(unit) ? [1n, 20n] : ratio(stepFor(grams, scales));
  const shown = times([nearest(over(exact, step)), 1n], step);
  const held = isLost(exact, shown) ? twoDigits(exact) : isFixed ? shown : undefined;
  return { exact, step, held, isSettled: Boolean(held) || compare(exact, shown) === 0 };
}

// Writes a count of millionths with its unit.
function measured(millionths, unit, mark) {
  let whole = String(millionths / ONE);
  if (whole.length > 4) whole = whole.replace(/\B(?=(\d{3})+$)/g, '\u202f');
  const part = String(millionths % ONE).padStart(6, '0').replace(/0+$/, '');
  return `${whole}${part && mark + part}${unit && TIE + unit}`;
}

// Writes a weight that is already rounded.
function weight(unit, shown, mark) {
  if (!isAvoirdupois(unit)) {
    if (unit === 'mg') return measured(shown * 1000n, unit, mark);
    return unit === 'kg' && shown >= 1000n * ONE ? measured(shown / 1000n, unit, mark) : measured(shown, 'g', mark);
  }
  if (shown < (unit === 'lb' ? 16n : 32n) * ONE) return measured(shown, 'oz', mark);
  const rest = shown % (16n * ONE);
  const pounds = measured((shown / 16n / ONE) * ONE, 'lb', mark);
  return rest ? `${pounds}${TIE}${measured(rest, 'oz', mark)}` : pounds;
}

// Works out a version of the recipe for so many pieces; gives a function from a number's key and a unit to its
// text, and nothing for a key that it does not know.
function workOut(amounts, version, count) {
  const { mark, scales } = amounts;
  const factor = over(count, ratio(version.count));
  const grown = (text) => times(ratio(text), factor);
  const known = new Map();
  // The weighed lines of every block, to be rounded; a block that is poured stands before those that it is poured into.
  const rounded = new Map();
  const parts = (at, unit) => {
    if (!rounded.has(unit)) {
      const blocks = [];
      version.blocks.forEach((lines, at) => blocks.push(lines.flatMap((grams, line) => {
        const isFixed = blocks[version.pours[at][line]]?.every(({ isSettled }) => isSettled) ?? false;
        return grams === null ? [] : [part(grown(grams), unit, scales, isFixed)];
      })));
      rounded.set(unit, blocks);
    }
    return rounded.get(unit)[at];
  };
  // What the lines show together that pour a block.
  const poured = (at, unit) => sum(version.pours.flatMap((lines, from) =>
    lines.flatMap((to, line) => (to === at ? [block(from, unit).lines[line]] : []))));
  const block = (at, unit) => {
    const name = `${at} ${unit}`;
    if (!known.has(name)) {
      const lines = version.blocks[at];
      const whole = version.whole[at] ? [poured(Number(at), unit), ONE] : undefined;
      const shown = shareOut(parts(at, unit), whole).map((shown) => nearest(times(shown, [ONE, 1n])));
      const total = settleAlone(unit, sum(shown));
      known.set(name, { total, lines: lines.map((line) => (line === null ? null : shown.shift())) });
    }
    return known.get(name);
  };
  const about = (grams, unit) => weight(unit, settleAlone(unit, millionths(unit, grams)), mark);
  const decimal = (value) => measured(nearest(times(value, [100n, 1n])) * 10000n, '', mark).replaceAll('\u202f', '');
  const name = () => {
    const [writtenFor, written] = version.written ?? [];
    if (writtenFor && compare(count, ratio(writtenFor)) === 0) return written;
    // The form goes by the number as it is shown.
    const shown = nearest(times(count, [100n, 1n]));
    return version.names[(amounts.one_below_two ? shown < 200n : shown === 100n) ? 0 : 1];
  };
  return (key, unit) => {
    const [kind, rest] = [key[0], key.slice(1)];
    if (kind === 'l' || kind === 'o') {
      const [at, line] = rest.split('.');
      return weight(unit, block(at, unit).lines[line], mark);
    }
    if (kind === 't' || kind === 'u') return weight(unit, block(rest, unit).total, mark);
    if (kind === 'g') return about(grown(rest), unit);
    if (kind === 'e') return about(ratio(rest), unit);
    if (kind === 'n') return decimal(count);
    if (kind === 'w') return name();
    if (kind === 'm') return decimal(grown(rest));
    return null;
  };
}

// Reads a number of pieces as it is typed; nothing for what is none.
function typed(text) {
  const found = /^(\d{1,5})(?:[.,](\d{1,3}))?$/.exec(text.trim());
  if (!found) return null;
  const [, whole, part = ''] = found;
  const count = [BigInt(whole + part), 10n ** BigInt(part.length)];
  return count[0] > 0n ? count : null;
}

function start() {
  const find = (id) => document.getElementById(id);
  const [choices, pieces, shownVersion] = ['choose', 'pieces', 'version'].map(find);
  const radios = (name) => [...choices.querySelectorAll(`[name="${name}"]`)];
  const checked = (name) => radios(name).find((radio) => radio.checked).value;
  const check = (name, value) => radios(name).forEach((radio) => { radio.checked = radio.value === value; });
  const chosen = {};
  let amounts;
  let variation;
  let versions;
  let written;
  let usual;
  let at;

  // Reads what the page says as it was built.
  const read = () => {
    amounts = JSON.parse(find('amounts').textContent);
    variation = find('variation');
    versions = [...(variation?.options ?? [{ value: '' }])].map((option) => option.value);
    written = [...shownVersion.childNodes];
    usual = { n: '', u: amounts.units[0], t: choices.dataset.scale, v: '' };
    at = 0;
  };
  const place = () => {
    const wanted = Math.max(0, versions.indexOf(chosen.v));
    if (wanted === at) return;
    at = wanted;
    const nodes = at ? [find(`v${at}`).content.cloneNode(true)] : written;
    shownVersion.replaceChildren(...nodes);
  };
  const show = () => {
    place();
    const version = amounts.versions[at];
    const count = typed(chosen.n) ?? ratio(version.count);
    const text = workOut(amounts, version, count);
    for (const element of document.querySelectorAll('[data-n]')) {
      const shown = text(element.dataset.n, chosen.u);
      if (shown !== null) element.textContent = shown;
    }
    document.documentElement.className = `live ${chosen.t}`;
    if (document.activeElement !== pieces) pieces.value = text('n', chosen.u);
  };
  const remember = () => {
    const words = new URLSearchParams(Object.entries(chosen).filter(([name, value]) => value !== usual[name]));
    history.replaceState(null, '', `${words}` ? `#${words}` : location.href.split('#')[0]);
    show();
  };
  const recall = () => {
    const words = new URLSearchParams(location.hash.slice(1));
    for (const name of Object.keys(usual)) chosen[name] = words.get(name) ?? usual[name];
    if (!typed(chosen.n)) chosen.n = '';
    if (!amounts.units.includes(chosen.u)) chosen.u = usual.u;
    if (!['c', 'f'].includes(chosen.t)) chosen.t = usual.t;
    if (!versions.includes(chosen.v)) chosen.v = '';
    check('unit', chosen.u);
    check('scale', chosen.t);
    if (variation) variation.value = chosen.v;
    show();
  };
  const step = (by) => {
    const [numerator, denominator] = typed(pieces.value) ?? ratio(amounts.versions[at].count);
    const next = numerator / denominator + by;
    pieces.value = chosen.n = String(next < 1n ? 1n : next);
    remember();
  };

  pieces.addEventListener('input', () => {
    pieces.setAttribute('aria-invalid', String(!typed(pieces.value)));
    if (!typed(pieces.value)) return;
    chosen.n = pieces.value.trim();
    remember();
  });
  pieces.addEventListener('blur', () => { pieces.setAttribute('aria-invalid', 'false'); show(); });
  find('fewer').addEventListener('click', () => step(-1n));
  find('more').addEventListener('click', () => step(1n));
  choices.addEventListener('change', (event) => {
    if (event.target === pieces) return;
    [chosen.u, chosen.t, chosen.v] = [checked('unit'), checked('scale'), variation?.value ?? ''];
    remember();
  });
  window.addEventListener('hashchange', recall);
  const print = find('print');
  print?.lastElementChild.addEventListener('click', () => window.print());
  const begin = () => {
    read();
    if (print) print.hidden = false;
    choices.hidden = false;
    recall();
  };
  // A page that is mended in place is put as it was built first, so that only what the recipe changed is found
  // changed; what was chosen stands in the address and is taken up again.
  document.addEventListener('loafwright:before', () => {
    Object.assign(chosen, usual);
    show();
  });
  document.addEventListener('loafwright:after', begin);
  begin();
}

if (typeof document !== 'undefined') start();
