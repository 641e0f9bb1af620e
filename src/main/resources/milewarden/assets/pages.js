// What scripts add to the pages: nothing here is needed to read them or to send a form.
document.documentElement.classList.add("scripted");

// Parts that may change by themselves are asked for again, each after its own seconds. A part in
// which somebody types, opened something or holds the focus is left alone.
const live = [...document.querySelectorAll("[data-live]")];
if (live.length > 0) {
  const seconds = Math.min(...live.map((part) => Number(part.dataset.live)));
  const address = location.pathname;
  let asking = false;
  setInterval(async () => {
    if (asking || document.hidden) return;
    asking = true;
    try {
      const answer = await fetch(address, { headers: { Accept: "text/html" } });
      if (answer.ok) renew(new DOMParser().parseFromString(await answer.text(), "text/html"));
    } catch {
      // The server is away for a moment: what stands here stays.
    } finally {
      asking = false;
    }
  }, 1000 * seconds);
}

function renew(fresh) {
  for (const part of document.querySelectorAll("[data-live]")) {
    const next = fresh.getElementById(part.id);
    if (!next || inUse(part) || shown(next) === shown(part)) continue;
    part.replaceWith(document.adoptNode(next));
  }
}

function inUse(part) {
  if (part.contains(document.activeElement) || part.querySelector("details[open]")) return true;
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
