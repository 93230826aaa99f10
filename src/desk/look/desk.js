// Everything works without this file; it marks the room one is in, counts characters while one types, and keeps open
// pages current.
"use strict";

for (const link of document.querySelectorAll(".top nav a")) {
  if (location.pathname === link.pathname || location.pathname.startsWith(link.pathname + "/")) {
    link.setAttribute("aria-current", "page");
  }
}

// A part of a page that follows the service: data-follow names a stream of events; at each one the page is fetched anew
// and the part replaced, unless somebody works in it.
for (const part of document.querySelectorAll("[data-follow]")) {
  const events = new EventSource(part.dataset.follow);
  events.addEventListener("changed", async () => {
    const current = document.getElementById(part.id);
    if (!current || current.contains(document.activeElement)) return;
    const answer = await fetch(location.href, { headers: { accept: "text/html" } });
    if (!answer.ok || answer.redirected) return;
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const fresh = page.getElementById(part.id);
    if (!fresh) return;
    current.replaceWith(document.importNode(fresh, true));
    const ended = fresh.dataset.ended !== undefined;
    if (ended) events.close();
  });
  window.addEventListener("pagehide", () => events.close());
}

// Ready-made replies fill the free text, where they can be changed.
for (const button of document.querySelectorAll("button[data-fill]")) {
  button.hidden = false;
  button.addEventListener("click", () => {
    const target = document.getElementById(button.dataset.fill);
    target.value = button.dataset.text;
    target.dispatchEvent(new Event("input"));
    target.focus();
  });
}
