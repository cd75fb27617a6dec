// The one rounding of a reader's page against the compiler's own: every number of every recipe at many sizes.
// Usage: LOAFWRIGHT=program node tests/browser/rounding.mjs
//
// The shipped recipes are tried as they are, then with other units and on other scales; beside them stand recipes
// made up of awkward numbers, the same ones in every run.
import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import vm from 'node:vm';

const here = path.dirname(fileURLToPath(import.meta.url));
const root = path.join(here, '../..');
const program = process.env.LOAFWRIGHT;
if (!program) throw new Error('LOAFWRIGHT names the program');

/** The functions of the page's script, taken from the very file that the program ships. */
const script = readFileSync(path.join(root, 'templates/reader.js'), 'utf8');
const { workOut, typed } = vm.runInNewContext(`${script}\n;({ workOut, typed })`);

const SIZES = [
  ...Array.from({ length: 30 }, (_, at) => String(at + 1)),
  '48', '64', '97', '115', '144', '365', '500', '999', '1000', '4096', '0.5', '1.5', '2.5', '0.25', '3.33', '7.125',
];
const UNITS = ['g, oz', 'oz, g', 'kg, lb', 'lb, kg', 'mg, oz'];
const SCALES = ['', 'scales: 1 g', 'scales: 5 g, 1 g under 100 g, 0.1 g under 10 g', 'scales: 0.5 g, 0.05 g under 12 g'];

/** A recipe of numbers that are hard to round, the same for the same seed. */
function awkward(seed) {
  let state = seed * 2654435761 % 4294967296;
  const next = (most) => {
    state = (state * 1664525 + 1013904223) % 4294967296;
    return state % most;
  };
  const share = () => `${next(40)}.${next(1000)} %`.replace(/\.(\d{1,2}) /, '.0$1 ');
  const names = ['water', 'whole milk', 'honey', 'unsalted butter', 'salt', 'instant yeast', 'sunflower seeds'];
  const lines = names.slice(0, 3 + next(5)).map((name) => `  ${share()}     ${name}`);
  const count = 1 + next(13);
  return `title: Awkward ${seed}\nmakes: ${count} loaves of ${100 + next(900)}.${next(10)} g\nhandling loss: ${next(4)} %\n`
    + `levain:\n  3 parts   bread flour\n  ${1 + next(4)} parts   water\n  ${next(100)}.7 %      starter\n  8 h ripen at 24 C\n`
    + `dough:\n  100 %     bread flour\n  ${10 + next(30)} %      levain\n${lines.join('\n')}\n  10 min    mix\n  40 min    bake at 230 C\n`
    + `topping:\n  ${1 + next(30)} g       sesame seeds\n  1 tbsp    honey\n`;
}

const compared = { sizes: 0, numbers: 0 };
const faults = [];

/** Compares every number of a recipe at every size. */
function compare(name, file) {
  const words = ['debug', 'numbers', file, '--pieces', SIZES.join(',')];
  const options = { encoding: 'utf8', maxBuffer: 512 * 1024 * 1024, stdio: ['ignore', 'pipe', 'ignore'] };
  const { amounts, numbers, sizes } = JSON.parse(execFileSync(program, words, options));
  if (sizes.length !== SIZES.length) faults.push(`${name}: ${SIZES.length - sizes.length} sizes have no page`);
  const own = { count: null, numbers };
  for (const { count, numbers: shown } of [own, ...sizes]) {
    compared.sizes += 1;
    numbers.forEach((keys, version) => {
      const [numerator, denominator = '1'] = amounts.versions[version].count.split('/');
      const pieces = count === null ? [BigInt(numerator), BigInt(denominator)] : typed(count);
      const text = workOut(amounts, amounts.versions[version], pieces);
      keys.forEach(([key], at) => {
        const [first, second] = amounts.units;
        const unit = 'ou'.includes(key[0]) ? second : first;
        let worked = text(key, unit);
        if (worked === null) return;
        if ('ge'.includes(key[0])) worked += ` · ${text(key, second)}`;
        compared.numbers += 1;
        const wanted = shown[version][at]?.[1];
        if (worked !== wanted) faults.push(`${name}, ${count} pieces, ${key}: ${worked} and not ${wanted}`);
      });
    });
  }
}

function recipes(workshop) {
  const made = [];
  UNITS.forEach((units, turn) => {
    SCALES.forEach((scales, place) => {
      if (turn > 0 && place !== turn % SCALES.length) return;
      const folder = path.join(workshop, `${turn}-${place}`);
      cpSync(path.join(root, 'recipes'), folder, { recursive: true });
      for (const file of readdirSync(folder, { recursive: true }).filter((name) => name.endsWith('.loaf'))) {
        const where = path.join(folder, file);
        const text = readFileSync(where, 'utf8');
        if (path.basename(file) === 'bakehouse.loaf') {
          writeFileSync(where, scales ? `${text.replace(/^scales:.*\n/m, '')}\n${scales}\n` : text);
        } else {
          writeFileSync(where, turn ? `units: ${units}\n${text.replace(/^units:.*\n/m, '')}` : text);
          made.push(where);
        }
      }
    });
  });
  const folder = path.join(workshop, 'awkward');
  mkdirSync(folder);
  for (let seed = 1; seed <= 60; seed += 1) {
    const where = path.join(folder, `awkward-${seed}.loaf`);
    writeFileSync(where, awkward(seed));
    made.push(where);
  }
  return made;
}

const workshop = mkdtempSync(path.join(tmpdir(), 'loafwright-rounding-'));
try {
  for (const file of recipes(workshop)) compare(path.relative(workshop, file), file);
} finally {
  rmSync(workshop, { recursive: true, force: true });
}
if (compared.sizes < 5000) faults.push(`only ${compared.sizes} sizes were compared`);
console.log(`${compared.numbers} numbers at ${compared.sizes} sizes worked out as the compiler does, ${faults.length} faults`);
faults.slice(0, 40).forEach((line) => console.error(line));
process.exitCode = faults.length ? 1 : 0;
