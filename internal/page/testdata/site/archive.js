// Filters for the archive. The list stands in the page, or where there are many trials in
// pages by year and month, and is whole without this script: it hides what does not match,
// and fetches the other pages when somebody looks for something. What is chosen stands in
// the page's address, so that a narrowed list can be sent to somebody.
(() => {
  "use strict";
  const form = document.getElementById("filters");
  const count = document.getElementById("filter-count");
  const list = document.querySelector(".trial-list");
  if (!form || !count || !list) return;

  const search = form.elements.q;
  const selects = [...form.querySelectorAll("select")];
  const searched = () => Boolean(search.value.trim());
  const year = () => (form.elements.year ? form.elements.year.value : "");
  const more = document.getElementById("filter-more");
  const heading = document.getElementById("trials");
  const headed = heading && heading.textContent;
  const plain = (text) => text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
  const number = new Intl.NumberFormat(document.documentElement.lang || "en");
  const words = new Map(); // of the notes, by slug

  // Rows that stand in the page belong to no part; those of a part are fetched.
  const rowOf = (item, part) => {
    const row = { item, part, slug: item.getAttribute("data-slug"), text: "", shown: !item.hidden };
    for (const { name } of selects) row[name] = " " + item.getAttribute("data-" + name) + " ";
    return row;
  };
  const rows = [...list.querySelectorAll(":scope > .trial")].map((item) => rowOf(item, null));

  // A divided archive shows its newest trials. Its parts are the pages that list all
  // trials of a year or a month, newest first.
  const parts = [...document.querySelectorAll(".part-list a[data-year]")].flatMap((link) => {
    const pages = (link.getAttribute("data-pages") || "").split(" ");
    return pages.map((below) => ({ address: new URL(below, link.href), year: link.getAttribute("data-year"), rows: false, words: false }));
  });
  parts.forEach((part, order) => { part.order = order; });
  const trials = (of) => [...document.querySelectorAll(".part-list a[data-year]")]
    .filter((link) => !of || link.getAttribute("data-year") === of)
    .reduce((sum, link) => sum + Number(link.getAttribute("data-trials")), 0);

  const got = async (address) => {
    const answer = await fetch(address);
    if (!answer.ok) throw new Error(address + ": " + answer.status);
    return answer;
  };

  // fetchRows puts the trials of a part into the list at their place; those that are
  // there already stay. Addresses in them are seen from the part's page.
  const fetchRows = async (part) => {
    const answer = await got(part.address);
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (!page.querySelector(".trial-list > .trial")) throw new Error(part.address + " is no page of the archive");
    const known = new Set(rows.map((row) => row.slug));
    const fresh = [];
    for (const there of page.querySelectorAll(".trial-list > .trial")) {
      if (known.has(there.getAttribute("data-slug"))) continue;
      const item = document.importNode(there, true);
      for (const link of item.querySelectorAll("a[href]")) link.href = new URL(link.getAttribute("href"), answer.url);
      item.hidden = true;
      fresh.push(rowOf(item, part));
    }
    let at = rows.findIndex((row) => row.part && row.part.order > part.order);
    if (at < 0) at = rows.length;
    const items = document.createDocumentFragment();
    items.append(...fresh.map((row) => row.item));
    list.insertBefore(items, at < rows.length ? rows[at].item : null);
    rows.splice(at, 0, ...fresh);
    part.rows = true;
  };

  const takeWords = (all) => {
    for (const [slug, said] of Object.entries(all)) words.set(slug, said);
    for (const row of rows) if (row.slug in all) row.text = "";
  };

  const chosen = () => searched() || selects.some((s) => s.value);
  const missing = () => {
    if (!chosen()) return undefined;
    const of = year();
    return parts.find((p) => (!of || p.year === of) && !(p.rows && (p.words || !searched())));
  };

  // look fetches one part after another, for as long as what is chosen may stand in
  // one that is not here yet.
  let looking = false, stuck = false;
  const look = async () => {
    if (looking) return;
    looking = true;
    for (let part; !stuck && (part = missing()); ) {
      try {
        if (!part.rows) await fetchRows(part);
        if (!part.words && searched()) {
          takeWords(await (await got(new URL(form.dataset.wordsBeside, part.address))).json());
          part.words = true;
        }
      } catch {
        stuck = true; // no network, or a page opened from a disk
      }
      show();
    }
    looking = false;
    show();
  };

  // The words of an archive that is not divided are fetched when somebody is about to
  // search; until they are here, and where they cannot be had, the search looks at the
  // list alone.
  let asked = parts.length > 0;
  const fetchWords = () => {
    if (asked) return;
    asked = true;
    got(form.dataset.words)
      .then((answer) => answer.json())
      .then((all) => {
        takeWords(all);
        if (searched()) apply();
      })
      .catch(() => {});
  };

  const textOf = (row) => {
    if (!row.text) row.text = plain(row.item.textContent + " " + (words.get(row.slug) || ""));
    return row.text;
  };

  // show hides what does not match. Without a choice, a divided archive shows what
  // stands in the page.
  let spoken = 0;
  const show = () => {
    const wanted = selects.filter((s) => s.value).map((s) => [s.name, " " + s.value + " "]);
    const terms = plain(search.value).split(/\s+/).filter(Boolean);
    const all = chosen();
    let shown = 0;
    for (const row of rows) {
      const fits =
        (all || !row.part) &&
        wanted.every(([name, value]) => row[name].includes(value)) &&
        terms.every((term) => textOf(row).includes(term));
      if (fits) shown++;
      if (row.shown !== fits) row.item.hidden = !(row.shown = fits);
    }
    if (heading) heading.textContent = (all && heading.dataset.found) || headed;
    const going = looking && !stuck && missing();
    if (going && Date.now() - spoken < 400) return; // nobody can listen faster
    spoken = Date.now();
    count.textContent = said(shown, going);
    if (more) more.hidden = !stuck || !missing();
  };

  const said = (shown, going) => {
    const { some, none, newest, going: soFar, stuck: far } = count.dataset;
    let text = shown ? some : none;
    if (parts.length && !chosen()) text = newest;
    else if (missing()) text = going || !stuck ? soFar : far;
    const of = year();
    const looked = rows.filter((row) => (!of || row.year === " " + of + " ") && (!searched() || stuck || words.has(row.slug))).length;
    return text.replace("{shown}", number.format(shown)).replace("{looked}", number.format(looked))
      .replace("{all}", number.format(trials(of)));
  };

  const apply = () => {
    if (!looking) stuck = false;
    remember();
    show();
    if (missing()) look();
  };

  const remember = () => {
    const chosen = new URLSearchParams();
    for (const field of [search, ...selects]) {
      const value = field.value.trim();
      if (value) chosen.set(field.name, value);
    }
    const query = chosen.toString();
    try {
      history.replaceState(null, "", location.pathname + (query ? "?" + query : "") + location.hash);
    } catch {
      // A page opened from a disk may not change its address.
    }
  };

  const recall = () => {
    const chosen = new URLSearchParams(location.search);
    search.value = chosen.get("q") || "";
    for (const select of selects) {
      select.value = chosen.get(select.name) || "";
      if (select.selectedIndex < 0) select.value = "";
    }
    if (search.value) fetchWords();
  };

  let waiting = 0;
  const soon = () => {
    clearTimeout(waiting);
    waiting = setTimeout(apply, 150);
  };

  search.addEventListener("focus", fetchWords);
  search.addEventListener("input", () => { fetchWords(); soon(); });
  for (const select of selects) select.addEventListener("change", apply);
  form.addEventListener("submit", (event) => { event.preventDefault(); apply(); });
  form.addEventListener("reset", () => setTimeout(apply));
  window.addEventListener("pageshow", (event) => { if (event.persisted) apply(); });

  recall();
  form.hidden = false;
  apply();
})();
