// The field sheet where the connection fails: what is typed stays on this device until the server
// says that it has it. It is sent again until then; the server counts nothing twice. Without this
// script the sheet is a plain form.
const PREFIX = "milewarden.sheet ";
const HEAD = ["session", "date", "operator", "laps", "weather"];
const OF_PASS = ["time", "standing_s", "excluded_reason", "happened"];

const form = document.querySelector("form[data-sheet]");
if (form) begin(form);

// What is kept of one sheet: where it goes, and by pass and unit all that is to be sent. A reading
// carries its unit, firmware and settings with it, so that it can be sent from any later sheet.
function load(key) {
  const empty = { action: "", rows: {} };
  try {
    return JSON.parse(localStorage.getItem(key)) ?? empty;
  } catch {
    return empty;
  }
}

function save(key, kept) {
  try {
    if (Object.keys(kept.rows).length === 0) localStorage.removeItem(key);
    else localStorage.setItem(key, JSON.stringify(kept));
    return true;
  } catch {
    return false;
  }
}

function sheets() {
  try {
    return Object.keys(localStorage).filter((key) => key.startsWith(PREFIX));
  } catch {
    return [];
  }
}

function begin(form) {
  const key = PREFIX + form.dataset.sheet;
  const status = form.querySelector("[data-status]");
  const elements = new Map([...form.querySelectorAll("[data-row]")].map((row) => [identity(row), row]));
  // Where the browser keeps nothing, the page itself does.
  let memory = load(key);
  let keeps = true;
  let busy = false;
  let trouble = "";

  function named(name) {
    return [...form.elements].filter((field) => field.name === name);
  }

  function valueOf(name) {
    const fields = named(name);
    if (fields[0]?.type !== "checkbox") return fields[0]?.value ?? "";
    return fields.filter((field) => field.checked).map((field) => field.value);
  }

  function identity(row) {
    const tag = (name) => form.elements[`row.${row.dataset.row}.${name}`]?.value ?? "";
    return `${tag("pass")}/${tag("unit")}`;
  }

  function passOf(row) {
    return row.closest("[data-pass]").dataset.pass;
  }

  // A field of a row is that row's; one of a pass is of all its rows; any other is of all rows.
  function rowsOf(field) {
    const own = field.closest("[data-row]");
    if (own) return [own];
    return [...(field.closest("[data-pass]") ?? form).querySelectorAll("[data-row]")];
  }

  function touched(field) {
    if (!field.name || field.type === "hidden") return;
    const typed = new Date().toISOString();
    for (const row of rowsOf(field)) {
      const start = `row.${row.dataset.row}.`;
      const tags = {};
      for (const each of row.querySelectorAll("[name]")) tags[each.name.slice(start.length)] = each.value;
      const ofPass = Object.fromEntries(OF_PASS.map((what) => [what, valueOf(`pass.${passOf(row)}.${what}`)]));
      const head = Object.fromEntries(HEAD.map((what) => [what, valueOf(what)]));
      memory.rows[identity(row)] = { typed, tags, ofPass, head, known: row.dataset.kept === "yes" };
    }
    memory.action = form.action;
    keeps = save(key, memory);
    show();
  }

  function fill() {
    const set = (name, value) => {
      for (const field of named(name)) {
        if (field.type === "checkbox") field.checked = value.includes(field.value);
        else if (field.type !== "hidden") field.value = value;
        const folded = field.closest("details");
        if (folded && value.length > 0 && !HEAD.includes(name)) folded.open = true;
      }
    };
    for (const [id, kept] of Object.entries(memory.rows)) {
      const row = elements.get(id);
      if (!row) continue;
      for (const [what, value] of Object.entries(kept.tags)) set(`row.${row.dataset.row}.${what}`, value);
      for (const what of OF_PASS) set(`pass.${passOf(row)}.${what}`, kept.ofPass[what]);
      for (const what of HEAD) set(what, kept.head[what]);
    }
  }

  // An empty line says nothing, unless the store knows more of it.
  function says(kept) {
    return (
      kept.known || kept.tags.shown.trim() !== "" || kept.tags.excluded_reason !== "" || kept.ofPass.excluded_reason !== ""
    );
  }

  function unsent(kept) {
    return Object.keys(kept.rows).filter((id) => says(kept.rows[id]) && !kept.rows[id].wrong);
  }

  function show() {
    const waiting = unsent(memory);
    const wrong = Object.keys(memory.rows).filter((id) => memory.rows[id].wrong);
    const elsewhere = sheets().filter((other) => other !== key && unsent(load(other)).length > 0).length;
    let read = 0;
    for (const [id, row] of elements) {
      const state = row.querySelector("[data-state]");
      if (valueOf(`row.${row.dataset.row}.shown`).trim() !== "") read++;
      row.toggleAttribute("data-wrong", wrong.includes(id));
      if (wrong.includes(id)) state.textContent = memory.rows[id].wrong;
      else if (waiting.includes(id)) state.textContent = keeps ? "Kept on this device, not sent yet." : "Not sent yet.";
      else if (row.dataset.now) state.textContent = "In the store.";
    }
    const words = [`${read} of ${elements.size} read.`];
    if (waiting.length > 0)
      words.push(
        trouble
          ? `${trouble}: ${waiting.length} not sent; ${keeps ? "kept on this device, and " : ""}sent again until the server has them.`
          : `${waiting.length} not sent yet.`,
      );
    if (wrong.length > 0) words.push(`${wrong.length} to be mended.`);
    if (elsewhere > 0) words.push("Readings of another sheet are sent, too.");
    if (waiting.length + wrong.length === 0 && read > 0) words.push("All of them are in the store.");
    if (!keeps) words.push("This browser keeps nothing: leave the page open until all is sent.");
    const text = words.join(" ");
    if (status.textContent !== text) status.textContent = text;
  }

  function body(rows) {
    const data = new URLSearchParams();
    data.append("csrf", valueOf("csrf"));
    for (const what of HEAD) data.append(what, rows[0].head[what]);
    rows.forEach(({ tags, ofPass, typed }, i) => {
      for (const [what, value] of Object.entries(tags)) data.append(`row.${i}.${what}`, value);
      data.append(`row.${i}.typed_at`, typed);
      const pass = `pass.${tags.pass}.`;
      if (data.has(`${pass}time`)) return;
      for (const what of OF_PASS) for (const value of [ofPass[what]].flat()) data.append(pass + what, value);
    });
    return data;
  }

  function post(action, rows) {
    return fetch(action, { method: "POST", headers: { Accept: "application/json" }, body: body(rows) });
  }

  // The token of a page that was kept is older than the server's last start.
  async function renewToken() {
    const answer = await fetch(location.href, { headers: { Accept: "text/html" }, cache: "no-store" });
    const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
    const token = fresh.querySelector("input[name=csrf]")?.value;
    if (token) for (const field of named("csrf")) field.value = token;
  }

  async function deliver(action, rows) {
    let answer = await post(action, rows);
    if (answer.status === 403) {
      await renewToken();
      answer = await post(action, rows);
    }
    if (answer.status === 401 || answer.redirected) throw new Error("Log in again on another page");
    if (!answer.ok) throw new Error(`The server answers ${answer.status}`);
    return answer.json();
  }

  // One sheet's readings; those that were typed anew meanwhile stay.
  async function sendSheet(sheet) {
    const ids = unsent(sheet === key ? memory : load(sheet));
    if (ids.length === 0) return false;
    const { action, rows } = sheet === key ? memory : load(sheet);
    const sent = ids.map((id) => rows[id]);
    const said = await deliver(action, sent);
    const now = sheet === key ? memory : load(sheet);
    const same = (i) => now.rows[ids[i]]?.typed === sent[i].typed;
    for (const i of said.kept) {
      if (same(i)) delete now.rows[ids[i]];
      const row = sheet === key && elements.get(ids[i]);
      if (!row) continue;
      row.dataset.kept = row.dataset.now = "yes";
      // Under another name the same readings would be another session's, and count twice.
      for (const field of named("session")) field.readOnly = true;
    }
    // The first says what is wrong; what follows from it would only hide it.
    for (const { number, sentence } of said.wrong) if (same(number)) now.rows[ids[number]].wrong ??= sentence;
    save(sheet, now);
    return true;
  }

  async function send() {
    if (busy) return;
    busy = true;
    let any = false;
    try {
      for (const sheet of new Set([key, ...sheets()])) any = (await sendSheet(sheet)) || any;
      trouble = "";
    } catch (problem) {
      // Without a connection fetch fails with this kind of error and words of the browser's own.
      trouble = problem instanceof TypeError ? "No connection" : problem.message;
      any = false;
    } finally {
      busy = false;
      show();
    }
    // What was typed meanwhile.
    if (any) await send();
  }

  fill();
  for (const button of form.querySelectorAll("[data-now]")) {
    button.hidden = false;
    button.addEventListener("click", () => {
      const field = named(button.dataset.now)[0];
      const now = new Date();
      field.value = [now.getHours(), now.getMinutes()].map((n) => String(n).padStart(2, "0")).join(":");
      touched(field);
    });
  }
  form.addEventListener("input", (event) => touched(event.target));
  form.addEventListener("change", (event) => {
    touched(event.target);
    send();
  });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    send();
  });
  addEventListener("online", send);
  addEventListener("pageshow", send);
  document.addEventListener("visibilitychange", () => document.hidden || send());
  addEventListener("storage", (event) => {
    if (event.key !== key) return;
    memory = load(key);
    fill();
    show();
  });
  setInterval(send, 5000);
  show();
  keepPage(form);
}

// The page itself, for the next time that it is opened without a connection; only where the
// browser trusts the address (https, or this machine).
async function keepPage(form) {
  try {
    const scope = new URL(form.action).pathname;
    await navigator.serviceWorker.register(form.dataset.worker, { scope });
    const kept = await caches.open("milewarden-sheet");
    const parts = [...document.querySelectorAll("link[href], script[src]")].map((p) => p.href || p.src);
    const address = new URL(location.href);
    address.searchParams.delete("sent");
    await kept.addAll([address.href, ...parts]);
    await navigator.serviceWorker.ready;
    form.dataset.ready = "yes";
  } catch {
    form.dataset.ready = "no";
  }
}
