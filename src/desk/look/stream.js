// One stream of events for all the pages that a browser shows.
"use strict";

const pages = new Set();
let events;

function follow() {
  if (events && events.readyState !== EventSource.CLOSED) return;
  events = new EventSource("/desk/events");
  events.addEventListener("changed", (event) => pages.forEach((page) => page.postMessage(event.data)));
  // After a pause something may have been missed.
  events.addEventListener("open", () => pages.forEach((page) => page.postMessage("{}")));
}

self.onconnect = (joined) => {
  const page = joined.ports[0];
  pages.add(page);
  page.onmessage = (said) => {
    if (said.data === "bye") pages.delete(page);
    if (pages.size === 0 && events) events.close();
  };
  follow();
};
