// What scripts add to the pages: nothing here is needed to read them or to send a form.
document.documentElement.classList.add("scripted");

// Parts that may change by themselves are asked for again when the server says that something
// changed; where its stream doesn't stand, after their own seconds. A part in which somebody types,
// opened something or holds the focus is left alone.
const live = [...document.querySelectorAll("[data-live]")];
if (live.length > 0) {
  const seconds = Math.min(...live.map((part) => Number(part.dataset.live)));
  let asking = false;
  let once = false;
  const ask = async () => {
    if (document.hidden) return;
    if (asking) {
      once = true;
      return;
    }
    asking = true;
    try {
      const answer = await fetch(location.pathname + location.search, {
        headers: { Accept: "text/html" },
      });
      if (answer.ok) renew(new DOMParser().parseFromString(await answer.text(), "text/html"));
    } catch {
      // The server is away for a moment: what stands here stays.
    } finally {
      asking = false;
    }
    if (once) {
      once = false;
      ask();
    }
  };

  let timer = 0;
  const poll = () => {
    if (timer === 0) timer = setInterval(ask, 1000 * seconds);
  };
  const rest = () => {
    clearInterval(timer);
    timer = 0;
  };
  let stream = null;
  let full = false;
  // Only a page that is looked at listens: a browser has few connections for one host.
  const listen = () => {
    if (document.hidden) {
      stream?.close();
      stream = null;
      return;
    }
    poll();
    ask();
    if (full || stream || !window.EventSource) return;
    stream = new EventSource("/live");
    stream.addEventListener("open", () => {
      rest();
      ask();
    });
    stream.addEventListener("changed", ask);
    stream.addEventListener("full", () => {
      full = true;
      stream.close();
      stream = null;
      poll();
    });
    // Broken: the browser tries again by itself, unless it was refused.
    stream.addEventListener("error", poll);
  };
  document.addEventListener("visibilitychange", listen);
  listen();
}

function renew(fresh) {
  for (const part of document.querySelectorAll("[data-live]")) {
    const next = fresh.getElementById(part.id);
    if (!next || inUse(part) || shown(next) === shown(part)) continue;
    part.replaceWith(document.adoptNode(next));
  }
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
  return [...part.querySelectorAll("input, select, textarea")].some((field) =>
    field.type === "checkbox"
      ? field.checked !== field.defaultChecked
      : field.type !== "hidden" && field.value !== (field.defaultValue ?? ""),
  );
}

// The token of a form is another one at every answer; it is no change.
function shown(part) {
  return part.outerHTML.replace(/name="csrf" value="[^"]*"/g, "");
}

// Files can be let fall on the form that takes them.
for (const drop of document.querySelectorAll(".drop")) {
  const field = drop.querySelector("input[type=file]");
  drop.addEventListener("dragover", (event) => {
    event.preventDefault();
    drop.classList.add("over");
  });
  drop.addEventListener("dragleave", () => drop.classList.remove("over"));
  drop.addEventListener("drop", (event) => {
    event.preventDefault();
    drop.classList.remove("over");
    field.files = event.dataTransfer.files;
  });
}
