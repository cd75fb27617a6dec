// Keeps a served page as the recipe is: hears of changes, asks for its news, and mends the page in place.
//
// Owns what is shown besides the page: the notes at its foot and the marks on what changed. All that comes from a
// recipe is set as plain text, or is a node of the page as it was built.
(() => {
  'use strict';
  const PAGE = location.pathname === '/' ? '/index.html' : location.pathname;
  const MARKED_FOR = 2500;
  const MARK = 'live-changed';
  let version = document.currentScript.dataset.version;
  let isLost = false;
  let news = { version, faults: '', kept: false, gone: false, moved: null };

  // ---- what is said besides the page ----

  const make = (name, kind, text) => {
    const node = document.createElement(name);
    if (kind) node.className = kind;
    if (text) node.textContent = text;
    return node;
  };
  const notes = make('aside', 'live-notes');
  notes.hidden = true;
  notes.lang = 'en';
  notes.dir = 'ltr';
  notes.setAttribute('aria-label', 'What loafwright has to say');
  notes.tabIndex = 0;
  const said = make('p', 'live-said');
  said.lang = 'en';
  said.setAttribute('role', 'status');
  document.body.append(notes, said);

  const note = (kind, head) => {
    const section = make('section', `live-${kind}`);
    if (kind !== 'warning') section.setAttribute('role', 'alert');
    section.append(make('p', 'live-head', head));
    return section;
  };

  /** Shows what there is to say, and touches nothing while that is the same. */
  let shown = '';
  function show() {
    const now = JSON.stringify([isLost, news.faults, news.kept, news.gone, news.moved]);
    if (now === shown) return;
    shown = now;
    const sections = [];
    if (isLost) {
      sections.push(note('lost', 'loafwright does not answer. The page stays as it was, and goes on by itself when '
        + '`loafwright watch` runs again.'));
    }
    if (news.moved) {
      const section = note('gone', 'This recipe has another name now. ');
      const link = make('a', '', 'Go to its page');
      link.href = news.moved;
      section.firstChild.append(link);
      sections.push(section);
    } else if (news.gone) {
      sections.push(note('gone', 'This recipe is gone. What stands here is its last card.'));
    }
    if (news.faults) {
      const head = news.kept ? 'There is a fault. The card stays as it was before it:'
        : 'The card is up to date; look at this:';
      const section = note(news.kept ? 'fault' : 'warning', head);
      const excerpt = make('pre', '', news.faults);
      excerpt.tabIndex = 0;
      section.append(excerpt);
      sections.push(section);
    }
    notes.replaceChildren(...sections);
    notes.hidden = sections.length === 0;
  }

  // ---- the page, mended in place ----

  const OURS = (node) => node === notes || node === said;
  const changed = new Set();
  const mark = (node) => {
    const element = node.nodeType === Node.ELEMENT_NODE ? node : node.parentElement;
    const isShown = element && element !== document.body && document.body.contains(element);
    if (isShown && !element.closest('script')) changed.add(element);
  };

  /** What templates hold is no child of theirs. */
  const templates = (node) => (node.nodeType !== Node.ELEMENT_NODE ? ''
    : [node, ...node.querySelectorAll('template')].map((one) => (one.content ? one.innerHTML : '')).join('\n'));
  const isSame = (old, fresh) => old.isEqualNode(fresh) && templates(old) === templates(fresh);
  const isKin = (old, fresh) => old.nodeType === fresh.nodeType && old.nodeName === fresh.nodeName
    && (old.id ?? '') === (fresh.id ?? '');

  function mendAttributes(old, fresh) {
    for (const { name } of [...old.attributes]) {
      if (!fresh.hasAttribute(name)) old.removeAttribute(name);
    }
    for (const { name, value } of fresh.attributes) {
      if (old.getAttribute(name) !== value) old.setAttribute(name, value);
    }
  }

  function mend(old, fresh) {
    if (isSame(old, fresh)) return;
    if (old.nodeType !== Node.ELEMENT_NODE) {
      if (old.nodeValue !== fresh.nodeValue) {
        if (`${old.nodeValue}${fresh.nodeValue}`.trim()) mark(old);
        old.nodeValue = fresh.nodeValue;
      }
      return;
    }
    // A script that runs is not run again by another text, and what it holds is its own.
    if (old.nodeName === 'SCRIPT' && !old.type.includes('json')) return;
    mendAttributes(old, fresh);
    if (old.nodeName === 'TEMPLATE') old.content.replaceChildren(document.importNode(fresh.content, true));
    mendChildren(old, [...fresh.childNodes]);
  }

  /** Children that stayed at both ends stay; those between are mended one by one, or put in and taken out. */
  function mendChildren(parent, wanted) {
    const there = [...parent.childNodes].filter((node) => !OURS(node));
    let front = 0;
    while (front < there.length && front < wanted.length && isSame(there[front], wanted[front])) front += 1;
    let back = 0;
    const left = Math.min(there.length, wanted.length) - front;
    while (back < left && isSame(there.at(-1 - back), wanted.at(-1 - back))) back += 1;
    const old = there.slice(front, there.length - back);
    const fresh = wanted.slice(front, wanted.length - back);
    const end = there[there.length - back] ?? there.at(-1)?.nextSibling ?? null;
    let at = 0;
    for (const node of fresh) {
      const kin = old.findIndex((one, place) => place >= at && isKin(one, node));
      if (kin >= 0) {
        old.slice(at, kin).forEach((one) => one.remove());
        at = kin + 1;
        mend(old[kin], node);
      } else {
        const copy = document.importNode(node, true);
        parent.insertBefore(copy, old[at] ?? end);
        if (copy.textContent.trim()) mark(copy);
      }
    }
    old.slice(at).forEach((one) => one.remove());
  }

  let unmark = 0;
  function showMarks() {
    const elements = [...changed].filter((element) => element.isConnected && !OURS(element));
    changed.clear();
    elements.forEach((element) => element.classList.add(MARK));
    const count = elements.length;
    said.textContent = count === 0 ? '' : `The card has changed in ${count} ${count === 1 ? 'place' : 'places'}.`;
    clearTimeout(unmark);
    unmark = setTimeout(() => document.querySelectorAll(`.${MARK}`).forEach(clearMark), MARKED_FOR);
  }
  function clearMark(element) {
    element.classList.remove(MARK);
    if (element.getAttribute('class') === '') element.removeAttribute('class');
  }

  /** Puts a page in the place of the one that is shown. Scroll position, focus and what was typed stay. */
  function takeOver(text) {
    const styles = [];
    // The policy of this page names its own style sheets, so those of the next one go another way.
    const bareText = text.replace(/<style>([^]*?)<\/style>/g, (_, style) => { styles.push(style); return ''; });
    const fresh = new DOMParser().parseFromString(bareText, 'text/html');
    document.querySelectorAll(`.${MARK}`).forEach(clearMark);
    // A page that bears a script of its own puts its figures in order before it is compared and after it.
    document.dispatchEvent(new Event('loafwright:before'));
    document.title = fresh.title;
    mendAttributes(document.documentElement, fresh.documentElement);
    mendChildren(document.body, [...fresh.body.childNodes]);
    takeStyles(styles);
    document.dispatchEvent(new Event('loafwright:after'));
    showMarks();
    const scripts = fresh.querySelectorAll('script[data-version]');
    return scripts[scripts.length - 1]?.dataset.version;
  }

  /** Takes style sheets over where they are not the ones that the page has. */
  let worn = [...document.head.querySelectorAll('style')].map((style) => style.textContent).join('\n');
  function takeStyles(styles) {
    const wanted = styles.join('\n');
    if (worn === wanted) return;
    worn = wanted;
    document.adoptedStyleSheets = styles.map((style) => {
      const sheet = new CSSStyleSheet();
      sheet.replaceSync(style);
      return sheet;
    });
    document.head.querySelectorAll('style').forEach((style) => style.setAttribute('media', 'not all'));
  }

  /** A picture that lies beside the page is fetched anew when it is another under its old name. */
  function takePictures(pictures) {
    for (const image of document.querySelectorAll('img:not([src^="data:"])')) {
      image.src = `${image.getAttribute('src').split('?')[0]}?${pictures}`;
    }
  }

  // ---- news ----

  let isAsking = false;
  let isAskedAgain = false;
  async function ask() {
    if (isAsking) { isAskedAgain = true; return; }
    isAsking = true;
    try {
      do {
        isAskedAgain = false;
        const answer = await fetch(`/.live/news?page=${PAGE}`, { cache: 'no-store' });
        if (!answer.ok) break;
        const fresh = await answer.json();
        if (fresh.version && fresh.version !== version) {
          const page = await fetch(PAGE, { cache: 'no-store' });
          if (page.ok) version = takeOver(await page.text()) ?? fresh.version;
        }
        if (news.pictures !== undefined && news.pictures !== fresh.pictures) takePictures(fresh.pictures);
        news = fresh;
        isLost = false;
        show();
      } while (isAskedAgain);
    } catch {
      // The server went; the stream tells of that.
    } finally {
      isAsking = false;
    }
  }

  // ---- the stream ----

  const pages = new BroadcastChannel('loafwright');
  const take = (word) => {
    if (word === 'lost') { isLost = true; show(); } else ask();
  };
  pages.onmessage = (message) => take(message.data);
  const tellAll = (word) => { pages.postMessage(word); take(word); };

  function listen() {
    const stream = new EventSource('/.live/ticks');
    stream.onmessage = () => tellAll('changed');
    stream.onerror = () => {
      tellAll('lost');
      if (stream.readyState === EventSource.CLOSED) setTimeout(listen, 1000);
    };
  }
  // A browser opens few connections to one server, so one page listens for all; another takes over when it closes.
  navigator.locks.request('loafwright', () => new Promise(listen));
  ask();
})();
