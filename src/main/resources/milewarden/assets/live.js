// Parts that may change by themselves are asked for again when the server says that its state is
// another than the one that this page was made in. Where its stream is not heard, they are asked for
// every ten seconds. A part in which somebody types, opened something or holds the focus stays.

const SLOW_MS = 10_000;
// The server says its state every 15 s at least.
const SILENCE_MS = 20_000;
// A browser opens six connections to one host (HTTP/1.1), in all its windows together: so many
// windows listen, the others ask.
const PLACES = 3;

const root = document.documentElement;
let stream = null;
let heard = 0;
let wanted = "";
let asking = false;
let attending = false;
let leave = () => {};

if (document.querySelector("[data-live]")) {
  document.addEventListener("visibilitychange", attend);
  addEventListener("pageshow", attend);
  addEventListener("pagehide", silence);
  setInterval(() => {
    if (Date.now() - heard > SILENCE_MS) ask();
  }, SLOW_MS);
  attend();
}

// Only a page that is looked at listens.
async function attend() {
  if (document.hidden) {
    silence();
    return;
  }
  if (stream || attending || !window.EventSource) return;
  attending = true;
  const may = await takePlace();
  attending = false;
  if (!may) return;
  if (document.hidden) {
    leave();
    return;
  }
  stream = new EventSource("/live");
  stream.addEventListener("state", (event) => {
    heard = Date.now();
    wanted = event.data;
    if (wanted !== root.dataset.state) ask();
  });
  stream.addEventListener("full", silence);
}

function silence() {
  stream?.close();
  stream = null;
  heard = 0;
  leave();
}

async function takePlace() {
  leave();
  if (!navigator.locks) return true;
  for (let place = 1; place <= PLACES; place++) {
    if (await taken(`milewarden-live-${place}`)) return true;
  }
  return false;
}

function taken(place) {
  return new Promise((say) => {
    const held = (lock) => {
      say(lock !== null);
      return lock && new Promise((free) => (leave = free));
    };
    navigator.locks.request(place, { ifAvailable: true }, held).catch(() => say(false));
  });
}

async function ask() {
  if (asking || document.hidden) return;
  asking = true;
  let came = false;
  try {
    const answer = await fetch(location.pathname + location.search, {
      headers: { Accept: "text/html" },
    });
    if (answer.ok) {
      renew(new DOMParser().parseFromString(await answer.text(), "text/html"));
      came = true;
    }
  } catch {
    // The server is away for a moment: what stands here stays.
  } finally {
    asking = false;
  }
  // It moved on while the answer was under way.
  if (came && stream && wanted && wanted !== root.dataset.state) setTimeout(ask, 250);
}

function renew(fresh) {
  let all = true;
  for (const part of document.querySelectorAll("[data-live]")) {
    const next = fresh.getElementById(part.id);
    if (!next || shown(next) === shown(part)) continue;
    if (inUse(part)) all = false;
    else part.replaceWith(document.adoptNode(next));
  }
  renewCharts(fresh);
  // A part that was left alone is tried again with the next word of the server.
  if (all) root.dataset.state = fresh.documentElement.dataset.state;
  else wanted = "";
}

function renewCharts(fresh) {
  const data = document.getElementById("chart-data");
  const next = fresh.getElementById("chart-data");
  if (!data || !next || data.textContent === next.textContent) return;
  data.textContent = next.textContent;
  const detail = JSON.parse(next.textContent);
  document.dispatchEvent(new CustomEvent("chartdata", { detail }));
}

function inUse(part) {
  if (part.contains(document.activeElement)) return true;
  if (part.matches("details[open]") || part.querySelector("details[open]")) return true;
  return [...part.querySelectorAll("input, select, textarea")].some(touched);
}

function touched(field) {
  if (field.type === "hidden") return false;
  if (field.type === "checkbox" || field.type === "radio")
    return field.checked !== field.defaultChecked;
  if (!field.options) return field.value !== field.defaultValue;
  const first = [...field.options].find((o) => o.defaultSelected) ?? field.options[0];
  return field.value !== first?.value;
}

// The token of a form is another one at every answer; it is no change.
function shown(part) {
  return part.outerHTML.replace(/name="csrf" value="[^"]*"/g, "");
}
