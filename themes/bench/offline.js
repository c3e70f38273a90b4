// Keeps the page to repeat a trial from, and what it is made of, on the device. Above this
// stand its files and a name that changes with them.
addEventListener("install", (event) => {
  event.waitUntil(caches.open(name).then((cache) => cache.addAll(files.map((file) => new Request(file, { cache: "reload" })))));
});

addEventListener("activate", (event) => {
  const own = name.slice(0, name.lastIndexOf(" ") + 1);
  const old = (key) => key.startsWith(own) && key !== name;
  event.waitUntil(
    caches
      .keys()
      .then((keys) => Promise.all(keys.filter(old).map((key) => caches.delete(key))))
      .then(() => clients.claim()),
  );
});

// What is kept comes from the device, everything else from the network. Someone in the
// middle of cooking gets the same page until it is closed everywhere.
addEventListener("fetch", (event) => {
  if (event.request.method !== "GET") return;
  event.respondWith(
    caches.open(name).then((cache) => cache.match(event.request, { ignoreSearch: true }).then((kept) => kept || fetch(event.request))),
  );
});
