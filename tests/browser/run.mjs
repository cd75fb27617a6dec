// Prints every card of a folder in a real browser and looks at the pages: their size, that nothing was asked
// of any host, that every weight of the sheet stands in the text; then asks an HTML validator and a checker
// of accessibility. Ends with 1 on the first run that finds anything.
import { execFileSync } from "node:child_process";
import { createRequire } from "node:module";
import { mkdtempSync, readdirSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";

const modules = process.env.NODE_PATH;
const require = createRequire(join(modules, "here.js"));
const { chromium } = require("playwright-core");
const { AxeBuilder } = require("@axe-core/playwright");

const folder = resolve(process.argv[2]);
const scratch = mkdtempSync(join(tmpdir(), "cards-"));
const browserPath = execFileSync("sh", ["-c", "command -v chromium"], { encoding: "utf8" }).trim();
const faults = [];
let passed = 0;

function expect(holds, what) {
  if (holds) passed += 1;
  else faults.push(what);
}

function htmlFiles(below) {
  return readdirSync(below, { withFileTypes: true })
    .filter((entry) => !entry.name.startsWith("."))
    .flatMap((entry) => {
      const path = join(below, entry.name);
      return entry.isDirectory() ? htmlFiles(path) : path.endsWith(".html") ? [path] : [];
    })
    .sort();
}

const browser = await chromium.launch({
  executablePath: browserPath,
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking"],
});
const context = await browser.newContext();
const files = htmlFiles(folder);
expect(files.length > 10, `only ${files.length} pages in ${folder}`);

for (const file of files) {
  const page = await context.newPage();
  const requests = [];
  page.on("request", (request) => requests.push(request.url()));
  await page.goto(pathToFileURL(file).href);
  const strangers = requests.filter((url) => !url.startsWith("file:") && !url.startsWith("data:"));
  expect(strangers.length === 0 && requests.length === 1, `${basename(file)} asks for ${requests.join(", ")}`);

  const axe = await new AxeBuilder({ page }).withTags(["wcag2a", "wcag2aa", "wcag21aa"]).analyze();
  expect(axe.violations.length === 0, `${basename(file)}: ${axe.violations.map((one) => one.id).join(", ")}`);

  const weights = await page.locator("td, li").evaluateAll((cells) =>
    cells.flatMap((cell) => cell.textContent.match(/[0-9.]+[\s\u00a0\u202f]g\b/g) ?? []),
  );
  const pdf = join(scratch, `${basename(file, ".html")}.pdf`);
  writeFileSync(pdf, await page.pdf({ preferCSSPageSize: true, tagged: true }));
  const facts = execFileSync("pdfinfo", [pdf], { encoding: "utf8" });
  const [, width, height] = facts.match(/Page size:\s+([0-9.]+) x ([0-9.]+)/);
  const pages = Number(facts.match(/Pages:\s+([0-9]+)/)[1]);
  const isPaper = [[595.28, 841.89], [612, 792]].some(
    ([w, h]) => Math.abs(width - w) <= 1 && Math.abs(height - h) <= 1,
  );
  expect(isPaper, `${basename(file)} prints on ${width} x ${height} pt`);
  expect(pages >= 1 && pages <= 4, `${basename(file)} takes ${pages} pages`);
  const plain = (text) => text.replace(/[\s\u00a0\u202f]+/g, "");
  const text = plain(execFileSync("pdftotext", ["-layout", pdf, "-"], { encoding: "utf8" }));
  const missing = weights.filter((weight) => !text.includes(plain(weight)));
  expect(missing.length === 0, `${basename(file)} does not print ${missing.join(", ")}`);
  await page.close();
}
await browser.close();

const validator = join(modules, "html-validate/bin/html-validate.mjs");
const settings = join(scratch, "validator.json");
writeFileSync(settings, JSON.stringify({ root: true, extends: ["html-validate:standard"], rules: {
  "no-inline-style": "off", "long-title": "off", "no-raw-characters": "off", "tel-non-breaking": "off",
  "void-style": "off", "attribute-boolean-style": "off", "require-sri": "off", "no-trailing-whitespace": "off",
} }));
try {
  execFileSync("node", [validator, "--config", settings, ...files], { encoding: "utf8" });
  passed += 1;
} catch (error) {
  faults.push(`the HTML validator says\n${String(error.stdout || error.message).slice(0, 4000)}`);
}

for (const fault of faults) console.error(`fault: ${fault}`);
console.log(`${passed} passed, ${faults.length} failed`);
process.exit(faults.length === 0 ? 0 : 1);
