// Readings at the counter: timers, big buttons and numbers for each piece, kept on this
// device and saved as the very log that the page offers empty. Without this script the
// page is the bench sheet.
(() => {
  "use strict";
  const counter = document.getElementById("counter");
  if (!counter) return;
  const plan = JSON.parse(counter.dataset.plan);
  const byId = (id) => document.getElementById(id);
  const form = byId("counter-form");
  const told = byId("counter-told");
  const key = "repeat " + counter.dataset.trial;

  const rows = plan.rows.map(([sample, batch, piece]) => ({ id: [sample, batch, piece].join("|"), sample, batch, piece }));
  const several = rows.some((row) => row.batch !== "1");
  const nameOf = (row) => (several ? row.batch + "." : "") + row.piece;
  const fieldsets = [...form.querySelectorAll(".counter-measure")];
  const samples = [...counter.querySelectorAll(".counter-sample")];

  // What is kept: the cells by piece and column, the timers that run by piece and
  // measure with the moment they were started, and the piece that is open.
  const state = { cells: {}, running: {}, open: rows[0].id };
  const isRow = (id) => rows.some((row) => row.id === id);
  try {
    const kept = JSON.parse(localStorage.getItem(key) || "{}");
    for (const [id, cells] of Object.entries(kept.cells || {})) if (isRow(id)) state.cells[id] = cells;
    for (const [timer, began] of Object.entries(kept.running || {})) {
      if (isRow(timer.slice(0, timer.lastIndexOf("|"))) && Number.isFinite(began)) state.running[timer] = began;
    }
    if (isRow(kept.open)) state.open = kept.open;
  } catch {
    // What cannot be read was not written by this page: begin anew.
  }

  const keep = () => {
    try {
      localStorage.setItem(key, JSON.stringify(state));
    } catch {
      told.textContent = told.dataset.full;
    }
  };

  const cell = (id, column) => (state.cells[id] || {})[column] || "";
  const setCell = (id, column, text) => {
    const cells = state.cells[id] || (state.cells[id] = {});
    if (text) cells[column] = text;
    else delete cells[column];
    keep();
  };

  // Times are written as minutes and seconds, whatever unit the measure has.
  const clock = (seconds) => {
    const s = Math.round(seconds);
    const two = (n) => String(n).padStart(2, "0");
    return s < 3600 ? Math.floor(s / 60) + ":" + two(s % 60) : Math.floor(s / 3600) + ":" + two(Math.floor(s / 60) % 60) + ":" + two(s % 60);
  };
  const timerOf = (id, measure) => id + "|" + measure;
  const elapsed = (timer) => Math.max(0, (Date.now() - state.running[timer]) / 1000);

  const stop = (timer) => {
    const at = timer.lastIndexOf("|");
    setCell(timer.slice(0, at), timer.slice(at + 1), clock(elapsed(timer)));
    delete state.running[timer];
    keep();
  };

  // The screen stays on while a timer runs, where the device allows it.
  let lock = null;
  const stayAwake = async () => {
    const wanted = Object.keys(state.running).length > 0;
    try {
      if (wanted && !lock && navigator.wakeLock) lock = await navigator.wakeLock.request("screen");
      if (!wanted && lock) {
        await lock.release();
        lock = null;
      }
    } catch {
      lock = null;
    }
  };
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") {
      lock = null;
      stayAwake();
    }
  });

  const current = () => rows.find((row) => row.id === state.open);
  const letterOf = (sample) => samples.find((button) => button.dataset.sample === sample).dataset.letter;
  const isDone = (row) => plan.columns.every((column) => cell(row.id, column)) || cell(row.id, "set aside") !== "";
  const filled = (text, values) => text.replace(/\{(\w+)\}/g, (whole, name) => values[name] ?? whole);

  const showSamples = () => {
    for (const button of samples) {
      const own = rows.filter((row) => row.sample === button.dataset.sample);
      const done = button.querySelector(".counter-done");
      button.setAttribute("aria-pressed", String(button.dataset.sample === current().sample));
      done.textContent = filled(done.dataset.done, { n: own.filter(isDone).length, m: own.length });
    }
  };

  const showPieces = () => {
    const own = rows.filter((row) => row.sample === current().sample);
    byId("counter-pieces").replaceChildren(
      ...own.map((row) => {
        const button = document.createElement("button");
        button.type = "button";
        button.textContent = nameOf(row);
        button.dataset.row = row.id;
        button.setAttribute("aria-pressed", String(row.id === state.open));
        button.classList.toggle("is-done", isDone(row));
        return button;
      }),
    );
  };

  const showMeasure = (set) => {
    const { measure, kind } = set.dataset;
    const text = cell(state.open, measure);
    const input = set.querySelector("input[type=text]");
    if (kind === "time") {
      const timer = timerOf(state.open, measure);
      const runs = timer in state.running;
      const go = set.querySelector(".counter-go");
      go.textContent = runs ? go.dataset.stop : go.dataset.start;
      go.setAttribute("aria-label", go.textContent + ": " + measure);
      set.classList.toggle("is-running", runs);
      set.querySelector(".counter-clock").textContent = runs ? clock(elapsed(timer)) : text || "0:00";
      input.disabled = runs;
      input.value = text;
    } else if (input) {
      const [, number, unit] = text.match(/^(\S*)\s*(.*)$/);
      input.value = number;
      const units = set.querySelector("select");
      if (units && unit) units.value = unit;
    } else {
      for (const radio of set.querySelectorAll("input")) radio.checked = radio.value === text;
    }
  };

  const showRunning = () => {
    const list = byId("counter-running");
    const timers = Object.keys(state.running).sort((a, b) => state.running[a] - state.running[b]);
    list.hidden = timers.length === 0;
    list.replaceChildren(
      ...timers.map((timer) => {
        const at = timer.lastIndexOf("|");
        const row = rows.find((r) => r.id === timer.slice(0, at));
        const item = document.createElement("li");
        const name = document.createElement("span");
        name.textContent = letterOf(row.sample) + " " + nameOf(row) + ", " + timer.slice(at + 1) + " ";
        const time = document.createElement("b");
        time.dataset.timer = timer;
        time.textContent = clock(elapsed(timer));
        const button = document.createElement("button");
        button.type = "button";
        button.textContent = list.dataset.stop;
        button.setAttribute("aria-label", list.dataset.stop + ": " + name.textContent);
        button.addEventListener("click", () => {
          stop(timer);
          show();
        });
        item.append(name, time, " ", button);
        return item;
      }),
    );
    stayAwake();
  };

  const show = () => {
    const row = current();
    const now = byId("counter-now");
    const name = samples.find((button) => button.dataset.sample === row.sample).querySelector(".sample-name").textContent;
    now.textContent = filled(now.dataset.now, { piece: nameOf(row), letter: letterOf(row.sample), sample: name });
    showSamples();
    showPieces();
    for (const set of fieldsets) showMeasure(set);
    for (const input of form.querySelectorAll("[data-cell]")) input.value = cell(state.open, input.dataset.cell);
    const at = rows.indexOf(row);
    byId("counter-before").disabled = at === 0;
    byId("counter-after").disabled = at === rows.length - 1;
    showRunning();
  };

  const open = (id) => {
    state.open = id;
    keep();
    told.textContent = "";
    show();
  };

  // What was typed: a number with a point, and its unit where it is not the measure's.
  const typed = (set, input) => {
    const text = input.value.trim().replace("−", "-").replace(",", ".");
    const units = set.querySelector("select");
    if (!text || !units || units.selectedIndex === 0) return text;
    return text + " " + units.value;
  };

  for (const set of fieldsets) {
    const { measure, kind } = set.dataset;
    const input = set.querySelector("input[type=text]");
    const take = () => {
      if (!input.checkValidity()) {
        told.textContent = filled(told.dataset.bad, { measure }) + " " + input.title;
        return;
      }
      told.textContent = "";
      setCell(state.open, measure, kind === "time" ? input.value.trim() : typed(set, input));
      if (kind === "time") showMeasure(set);
      showSamples();
      showPieces();
    };
    if (input) input.addEventListener("change", take);
    if (kind === "time") {
      set.querySelector(".counter-go").addEventListener("click", () => {
        const timer = timerOf(state.open, measure);
        if (timer in state.running) stop(timer);
        else state.running[timer] = Date.now();
        keep();
        show();
      });
      continue;
    }
    const units = set.querySelector("select");
    if (units) units.addEventListener("change", take);
    for (const radio of set.querySelectorAll("input[type=radio]")) {
      radio.addEventListener("change", () => {
        setCell(state.open, measure, radio.value);
        show();
      });
    }
    const clear = set.querySelector(".counter-clear");
    if (clear) {
      clear.addEventListener("click", () => {
        setCell(state.open, measure, "");
        show();
      });
    }
  }
  for (const input of form.querySelectorAll("[data-cell]")) {
    input.addEventListener("change", () => {
      setCell(state.open, input.dataset.cell, input.value.trim());
      showSamples();
      showPieces();
    });
  }
  form.addEventListener("submit", (event) => event.preventDefault());
  for (const button of samples) {
    button.addEventListener("click", () => {
      const own = rows.filter((row) => row.sample === button.dataset.sample);
      open((own.find((row) => !isDone(row)) || own[0]).id);
    });
  }
  byId("counter-pieces").addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (button) open(button.dataset.row);
  });
  const turn = (by) => {
    open(rows[rows.indexOf(current()) + by].id);
    byId("counter-now").focus();
  };
  byId("counter-before").addEventListener("click", () => turn(-1));
  byId("counter-after").addEventListener("click", () => turn(1));

  // CSV as RFC 4180 has it. What a spreadsheet would take for a formula stands behind an
  // apostrophe, as in every log of this site.
  const quoted = (text) => {
    const safe = /^[=+\-@\t\r]/.test(text) && !/^[+-]?\d+(\.\d+)?$/.test(text) ? "'" + text : text;
    return /[",\r\n]/.test(safe) ? '"' + safe.replace(/"/g, '""') + '"' : safe;
  };
  const log = () =>
    [plan.heading, ...rows.map((row) => plan.heading.map((column, i) => (i < 3 ? [row.sample, row.batch, row.piece][i] : cell(row.id, column))))]
      .map((cells) => cells.map(quoted).join(",") + "\r\n")
      .join("");

  byId("counter-export").addEventListener("click", () => {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([log()], { type: "text/csv;charset=utf-8" }));
    link.download = counter.dataset.log;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60000);
    told.textContent = filled(told.dataset.saved, { file: link.download });
  });
  byId("counter-reset").addEventListener("click", () => {
    if (!confirm(byId("counter-reset").dataset.sure)) return;
    state.cells = {};
    state.running = {};
    open(rows[0].id);
  });

  setInterval(() => {
    for (const time of byId("counter-running").querySelectorAll("[data-timer]")) time.textContent = clock(elapsed(time.dataset.timer));
    for (const set of fieldsets) {
      const timer = timerOf(state.open, set.dataset.measure);
      if (timer in state.running) set.querySelector(".counter-clock").textContent = clock(elapsed(timer));
    }
  }, 250);

  counter.hidden = false;
  show();

  // Once the page and what it needs lie on the device, it opens without a network.
  const offline = byId("counter-offline");
  if ("serviceWorker" in navigator && counter.dataset.worker) {
    offline.textContent = offline.dataset.online;
    navigator.serviceWorker
      .register(counter.dataset.worker)
      .then(() => navigator.serviceWorker.ready)
      .then(() => {
        offline.textContent = offline.dataset.ready;
      })
      .catch(() => {
        offline.textContent = "";
      });
  }
})();
