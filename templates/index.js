// Finds breads in the index by words and by tag. Everything that is looked through stands in the page itself, so
// that it works from disk.

'use strict';

// Letters as they are compared: without case and accents.
const plain = (text) => text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();

function start() {
  const find = (id) => document.getElementById(id);
  const [search, words, count] = ['find', 'words', 'count'].map(find);
  if (!search) return;
  let tag;
  let whole;
  let rows;

  // The rows are read when somebody first looks for one.
  const known = () => (rows ??= [...find('rows').children].map((row) => ({
    row,
    text: plain([row.dataset.f, ...[...row.children].slice(0, 5).map((cell) => cell.textContent)].join(' ')),
    tags: row.querySelector('.t').textContent.split(', '),
  })));
  const show = () => {
    const wanted = plain(words.value).split(/\s+/).filter(Boolean);
    const ofTag = tag?.value ?? '';
    const isAll = !wanted.length && !ofTag;
    if (isAll && !rows) return;
    let found = 0;
    for (const { row, text, tags } of known()) {
      const fits = wanted.every((word) => text.includes(word)) && (!ofTag || tags.includes(ofTag));
      if (row.hidden === fits) row.hidden = !fits;
      found += fits;
    }
    const { none, one, many } = count.dataset;
    count.textContent = isAll ? whole : found > 1 ? many.replace('{count}', found) : found ? one : none;
  };
  const remember = () => {
    const chosen = new URLSearchParams();
    if (words.value.trim()) chosen.set('q', words.value.trim());
    if (tag?.value) chosen.set('tag', tag.value);
    history.replaceState(null, '', `${chosen}` ? `#${chosen}` : location.href.split('#')[0]);
    show();
  };
  const recall = () => {
    const chosen = new URLSearchParams(location.hash.slice(1));
    words.value = chosen.get('q') ?? '';
    if (tag) tag.value = chosen.get('tag') ?? '';
    if (tag && tag.selectedIndex < 0) tag.value = '';
    show();
  };
  search.addEventListener('input', remember);
  window.addEventListener('hashchange', recall);
  const begin = () => {
    [tag, whole, rows] = [find('tag'), count.textContent, undefined];
    search.hidden = false;
    recall();
  };
  // A page that is mended in place is put as it was built first; what is sought stands in the address.
  document.addEventListener('loafwright:before', () => {
    rows?.forEach(({ row }) => { row.hidden = false; });
    count.textContent = whole;
  });
  document.addEventListener('loafwright:after', begin);
  begin();
}

if (typeof document !== 'undefined') start();
