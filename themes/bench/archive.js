// Filters for the archive. The list stands in the page and is whole without this
// script; it only hides what does not match. What is chosen stands in the page's
// address, so that a narrowed list can be sent to somebody.
(() => {
  "use strict";
  const form = document.getElementById("filters");
  const count = document.getElementById("filter-count");
  if (!form || !count) return;

  const search = form.elements.q;
  const selects = [...form.querySelectorAll("select")];
  const plain = (text) => text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
  const rows = [...document.querySelectorAll(".trial-list > .trial")].map((item) => {
    const row = { item, slug: item.getAttribute("data-slug"), text: "", shown: true };
    for (const { name } of selects) row[name] = " " + item.getAttribute("data-" + name) + " ";
    return row;
  });
  const number = new Intl.NumberFormat(document.documentElement.lang || "en");

  // The words of the notes are fetched when somebody is about to search; until they
  // are here, and where they cannot be had, the search looks at the list alone.
  let words = null;
  const fetchWords = () => {
    if (words) return;
    words = {};
    fetch(form.dataset.words)
      .then((answer) => (answer.ok ? answer.json() : {}))
      .then((all) => {
        words = all;
        for (const row of rows) row.text = "";
        if (search.value.trim()) apply();
      })
      .catch(() => {});
  };

  const textOf = (row) => {
    if (!row.text) {
      const more = words && words[row.slug];
      row.text = plain(row.item.textContent + " " + (more || ""));
    }
    return row.text;
  };

  const apply = () => {
    const wanted = selects.filter((s) => s.value).map((s) => [s.name, " " + s.value + " "]);
    const terms = plain(search.value).split(/\s+/).filter(Boolean);
    let shown = 0;
    for (const row of rows) {
      const fits =
        wanted.every(([name, value]) => row[name].includes(value)) &&
        terms.every((term) => textOf(row).includes(term));
      if (fits) shown++;
      if (row.shown !== fits) row.item.hidden = !(row.shown = fits);
    }
    const text = shown ? count.dataset.some : count.dataset.none;
    count.textContent = text.replace("{shown}", number.format(shown));
    remember();
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
