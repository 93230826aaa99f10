// Everything works without this file; it marks the room one is in, keeps open pages current and what is typed safe.
"use strict";

for (const link of document.querySelectorAll(".top nav a")) {
  if (location.pathname === link.pathname || location.pathname.startsWith(link.pathname + "/")) {
    link.setAttribute("aria-current", "page");
  }
}

const root = document.documentElement;
const work = document.getElementById("work");

// Parts of a page that follow the service are fetched anew at a change and replaced, unless somebody works in them.
async function refresh() {
  const parts = [...document.querySelectorAll("[data-follow]")];
  if (parts.length === 0) return;
  const answer = await fetch(location.href, { headers: { accept: "text/html" } }).catch(() => null);
  if (!answer || !answer.ok || answer.redirected) return;
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  for (const part of parts) {
    const fresh = page.getElementById(part.id);
    if (!fresh || part.contains(document.activeElement)) continue;
    const atEnd = part.scrollTop + part.clientHeight >= part.scrollHeight - 40;
    part.replaceWith(document.importNode(fresh, true));
    if (atEnd) document.getElementById(part.id).scrollTop = 1e9;
  }
  freshCells(page);
}

// A field of the sheet that nobody has typed in takes what the grower has told meanwhile.
function freshCells(page) {
  for (const cell of document.querySelectorAll("[data-cell]")) {
    const fresh = page.querySelector(`[data-cell="${cell.dataset.cell}"]`);
    if (!fresh) continue;
    const [value, was] = cell.querySelectorAll("input");
    const now = fresh.querySelectorAll("input")[1].value;
    if (value.value === was.value && now !== was.value && value !== document.activeElement) {
      value.value = now;
      was.value = now;
      cell.classList.add("changed");
    }
  }
}

let asked = false;
function changed() {
  if (document.visibilityState === "hidden") {
    asked = true;
    return;
  }
  clearTimeout(changed.later);
  changed.later = setTimeout(refresh, 150);
}
document.addEventListener("visibilitychange", () => {
  if (asked && document.visibilityState === "visible") {
    asked = false;
    refresh();
  }
});

// How many wait stands in the title and in the menu.
let waiting = Number(root.dataset.waiting || 0);
let danger = Number(root.dataset.danger || 0);
function hear(data) {
  const counts = JSON.parse(data || "{}");
  if ("waiting" in counts) {
    if (counts.waiting > waiting || counts.danger > danger) ring(counts.danger > danger);
    waiting = counts.waiting;
    danger = counts.danger;
    document.title = (waiting > 0 ? `(${waiting}) ` : "") + root.dataset.title;
    const many = document.querySelector('.top a[href="/desk/waiting"] .many');
    if (many) {
      many.textContent = waiting;
      many.hidden = waiting === 0;
    }
  }
  changed();
}

if (root.dataset.stream) {
  if (window.SharedWorker) {
    const worker = new SharedWorker(root.dataset.stream);
    worker.port.onmessage = (event) => hear(event.data);
    window.addEventListener("pagehide", () => worker.port.postMessage("bye"));
  } else {
    setInterval(changed, 15000);
  }
}

// A list that is being answered is looked at again and again.
const poll = setInterval(() => (document.querySelector("[data-poll]") ? refresh() : clearInterval(poll)), 1500);

// Times that go on.
function spans() {
  for (const time of document.querySelectorAll("time[data-since]")) {
    const minutes = Math.max(0, Math.floor((Date.now() - Date.parse(time.dateTime)) / 60000));
    const hours = Math.floor(minutes / 60);
    time.textContent = minutes < 60 ? `${minutes} min` :
      hours < 24 ? `${hours} h ${minutes % 60} min` : `${Math.floor(hours / 24)} d ${hours % 24} h`;
  }
}
setInterval(spans, 20000);

// A sound for whoever wants one.
const sound = document.getElementById("sound");
const wanted = () => localStorage.getItem("sound") === "on";
function ring(isDanger) {
  if (!wanted() || !window.AudioContext) return;
  const context = new AudioContext();
  (isDanger ? [0, 0.25, 0.5, 0.75] : [0]).forEach((at) => {
    const tone = context.createOscillator();
    const loud = context.createGain();
    tone.frequency.value = isDanger ? 880 : 523;
    loud.gain.value = 0.2;
    tone.connect(loud).connect(context.destination);
    tone.start(context.currentTime + at);
    tone.stop(context.currentTime + at + 0.15);
  });
}
if (sound) {
  const show = () => sound.setAttribute("aria-pressed", String(wanted()));
  sound.hidden = false;
  show();
  sound.addEventListener("click", () => {
    localStorage.setItem("sound", wanted() ? "off" : "on");
    show();
    ring(false);
  });
}

// What is typed is kept with the talk a moment later; until the service has it, here.
const box = (name) => `typed ${name}`;
if (document.querySelector("[data-done]") && sessionStorage.getItem("sending")) {
  localStorage.removeItem(sessionStorage.getItem("sending"));
  sessionStorage.removeItem("sending");
}
if (work) {
  const name = box(location.pathname);
  const state = document.getElementById("kept");
  const typed = () => new URLSearchParams([...new FormData(work)].filter(([field]) => field !== "shown"));
  const tell = (key) => { if (state) state.textContent = state.dataset[key]; };
  let later;
  async function keep() {
    const body = typed();
    localStorage.setItem(name, JSON.stringify({ at: Date.now(), typed: body.toString() }));
    try {
      const answer = await fetch(`${location.pathname}/draft`, { method: "POST", body, redirect: "manual" });
      if (answer.status === 204) {
        localStorage.removeItem(name);
        tell("kept");
      } else {
        tell("out");
      }
    } catch {
      tell("here");
      clearTimeout(later);
      later = setTimeout(keep, 5000);
    }
  }
  work.addEventListener("input", () => {
    localStorage.setItem(name, JSON.stringify({ at: Date.now(), typed: typed().toString() }));
    clearTimeout(later);
    later = setTimeout(keep, 600);
  });
  work.addEventListener("submit", () => {
    clearTimeout(later);
    localStorage.setItem(name, JSON.stringify({ at: Date.now(), typed: typed().toString() }));
    sessionStorage.setItem("sending", name);
  });
  const left = JSON.parse(localStorage.getItem(name) || "null");
  if (left && left.at > Number(work.dataset.kept || 0)) {
    for (const [field, value] of new URLSearchParams(left.typed)) {
      if (work.elements[field]) work.elements[field].value = value;
    }
    keep();
  } else {
    localStorage.removeItem(name);
  }
  window.addEventListener("online", keep);

  // A ready reply goes in where the cursor stands.
  const text = document.getElementById("text");
  for (const button of work.querySelectorAll("button[name=ready]")) {
    button.addEventListener("click", (event) => {
      event.preventDefault();
      const ready = document.getElementById(`ready-${button.value}`).textContent;
      const [start, end] = [text.selectionStart, text.selectionEnd];
      const before = start > 0 && !/\s$/.test(text.value.slice(0, start)) ? " " : "";
      const behind = end < text.value.length && !/^\s/.test(text.value.slice(end)) ? " " : "";
      text.setRangeText(before + ready + behind, start, end, "end");
      text.dispatchEvent(new Event("input", { bubbles: true }));
      text.focus();
    });
  }
  text.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) work.querySelector("button[value=send]").click();
  });
}
