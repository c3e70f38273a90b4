// Loads the page again when what it is made from was saved. A page that is not
// looked at lets its line to the server go, for a browser has few of them, and
// catches up when it is looked at again.
(() => {
  const at = new URL(document.currentScript.src).searchParams.get("at");
  let line = null;
  let later = 0;

  const rest = () => {
    clearTimeout(later);
    if (line) line.close();
    line = null;
  };
  const listen = () => {
    if (line || document.hidden) return;
    line = new EventSource("/.preview/events?" + new URLSearchParams({ at, page: location.pathname }));
    line.addEventListener("refresh", () => { rest(); location.reload(); });
    line.addEventListener("error", () => {
      if (line && line.readyState === EventSource.CLOSED) {
        rest();
        later = setTimeout(listen, 3000);
      }
    });
  };

  document.addEventListener("visibilitychange", () => document.hidden ? rest() : listen());
  addEventListener("pagehide", rest);
  addEventListener("pageshow", listen);
  listen();
})();
