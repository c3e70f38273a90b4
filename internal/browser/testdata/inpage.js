// What the checks ask of a page. It is run in the page after it is whole, and
// once more after every reload.
globalThis.sidebatch = (() => {
  const name = (e) => e.tagName.toLowerCase() + (e.id ? "#" + e.id : "") + [...e.classList].map((c) => "." + c).join("");
  const shown = (e) => e.checkVisibility({ visibilityProperty: true, opacityProperty: true }) && e.getClientRects().length > 0;
  const words = (e) => e.innerText.replace(/\s+/g, " ").trim();
  const count = (e) => words(e).split(" ").filter((word) => word).length;
  const others = [...document.querySelectorAll('input[type="radio"]:not(:checked), input[type="checkbox"]:not(:checked)')];

  // scrolls holds where an element stands in a box of its own that scrolls sideways.
  const scrolls = (e) => {
    for (let box = e.parentElement; box && box !== document.body; box = box.parentElement) {
      if (/auto|scroll/.test(getComputedStyle(box).overflowX)) return true;
    }
    return false;
  };

  // form is everything that axe-core could see of the page but its colours: each
  // element, its place and size, and whether it is shown.
  const form = () => [innerWidth, ...[...document.querySelectorAll("*")].map((e) => {
    const r = e.getBoundingClientRect();
    return [e.tagName, r.x, r.y, r.width, r.height, shown(e), e.checked].join();
  })].join(";");
  const judged = new Set();

  return {
    // fetch loads the pictures that would wait until they are scrolled to.
    async fetch() {
      const pictures = [...document.images];
      for (const picture of pictures) picture.loading = "eager";
      await Promise.allSettled(pictures.map((picture) => picture.decode()));
    },

    unfold() {
      for (const d of document.querySelectorAll("details")) d.open = true;
    },

    switches: () => others.length,

    turn(i) {
      others[i].checked = true;
    },

    // wide says what makes the page wider than the screen. To hide what sticks out
    // is no way out: it could not be read.
    wide() {
      const room = document.documentElement.clientWidth, found = [];
      for (const root of [document.documentElement, document.body]) {
        if (/hidden|clip/.test(getComputedStyle(root).overflowX)) found.push(name(root) + " hides what sticks out");
      }
      const wide = Math.max(document.documentElement.scrollWidth, document.body.scrollWidth);
      if (wide > room) {
        found.push("the page is " + wide + " pixels wide instead of " + room);
        for (const e of document.body.querySelectorAll("*")) {
          const r = e.getBoundingClientRect();
          if (r.width > 1 && r.right > room + 1 && !scrolls(e) && !e.closest("svg *") && found.length < 8) {
            found.push(name(e) + " reaches " + Math.round(r.right) + " pixels");
          }
        }
      }
      return found;
    },

    // accessible runs axe-core with all rules. Where nothing but colours can differ
    // from a form that was judged already, the rules about colours are enough.
    async accessible() {
      const all = axe.getRules(["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"])
        .filter((r) => !r.tags.includes("experimental") && !r.tags.includes("deprecated"));
      const now = form();
      const rules = judged.has(now) ? all.filter((r) => r.tags.includes("cat.color")) : all;
      judged.add(now);
      const result = await axe.run(document, { runOnly: { type: "rule", values: rules.map((r) => r.ruleId) }, resultTypes: ["violations"] });
      return result.violations.map((v) => {
        const places = v.nodes.slice(0, 3).map((n) => n.target.join(" ") + " " + n.html.slice(0, 120).replace(/\s+/g, " "));
        return `${v.id}: ${v.help}: ${v.nodes.length} times: ${places.join(" | ")}`;
      });
    },

    // content is what a reader sees of the main part. Words in a form are counted
    // apart: a form is there to work on what can be read anyway.
    content() {
      const main = document.querySelector("main");
      if (!main || !shown(main)) return { title: "", headings: [], words: 0 };
      const title = main.querySelector("h1");
      return {
        title: title && shown(title) ? words(title) : "",
        headings: [...main.querySelectorAll("h2, h3")].filter(shown).map(words),
        words: count(main) - [...main.querySelectorAll("form")].filter(shown).reduce((sum, f) => sum + count(f), 0),
      };
    },
  };
})();
0;
