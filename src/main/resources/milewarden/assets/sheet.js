// The field sheet where the connection fails: what is typed stays on this device until the server
// says that it has it. It is sent again until then; the server counts nothing twice. Without this
// script the sheet is a plain form.
const form = document.querySelector("form[data-sheet]");
if (form) begin(form);

function begin(form) {
  const key = "milewarden.sheet " + form.dataset.sheet;
  const status = form.querySelector("[data-status]");
  const rows = new Map([...form.querySelectorAll("[data-row]")].map((r) => [r.dataset.row, r]));
  let memory = { fields: {}, typed: {}, wrong: {} };
  let keeps = true;
  let busy = false;
  let away = false;

  // What is kept: the fields that were touched, and per row when it was typed in last.
  function load() {
    try {
      const text = localStorage.getItem(key);
      memory = text ? JSON.parse(text) : { fields: {}, typed: {}, wrong: {} };
    } catch {
      keeps = false;
    }
  }

  function save() {
    try {
      if (Object.keys(memory.typed).length === 0) localStorage.removeItem(key);
      else localStorage.setItem(key, JSON.stringify(memory));
      keeps = true;
    } catch {
      keeps = false;
    }
  }

  function named(name) {
    return [...form.elements].filter((field) => field.name === name);
  }

  function fill() {
    for (const [name, value] of Object.entries(memory.fields))
      for (const field of named(name)) {
        if (field.type === "checkbox") field.checked = value.includes(field.value);
        else field.value = value;
        const folded = field.closest("details");
        if (folded && value.length > 0) folded.open = true;
      }
  }

  function valueOf(name) {
    const fields = named(name);
    if (fields[0]?.type !== "checkbox") return fields[0]?.value ?? "";
    return fields.filter((field) => field.checked).map((field) => field.value);
  }

  // A field of a row is that row's; one of a pass is of all its rows; any other is of all rows.
  function rowsOf(field) {
    const own = field.closest("[data-row]");
    if (own) return [own.dataset.row];
    const within = field.closest("[data-pass]") ?? form;
    return [...within.querySelectorAll("[data-row]")].map((row) => row.dataset.row);
  }

  function touched(field) {
    if (!field.name || field.type === "hidden") return;
    memory.fields[field.name] = valueOf(field.name);
    const now = new Date().toISOString();
    for (const row of rowsOf(field)) {
      memory.typed[row] = now;
      delete memory.wrong[row];
    }
    save();
    show();
  }

  function passOf(row) {
    return rows.get(row).closest("[data-pass]").dataset.pass;
  }

  function says(row) {
    return (
      rows.get(row).dataset.kept === "yes" ||
      valueOf(`row.${row}.shown`).trim() !== "" ||
      valueOf(`row.${row}.excluded_reason`) !== "" ||
      valueOf(`pass.${passOf(row)}.excluded_reason`) !== ""
    );
  }

  function unsent() {
    return Object.keys(memory.typed).filter((row) => rows.has(row) && says(row));
  }

  function show() {
    const waiting = unsent().filter((row) => !memory.wrong[row]);
    const wrong = unsent().filter((row) => memory.wrong[row]);
    const read = [...rows.keys()].filter((row) => valueOf(`row.${row}.shown`).trim() !== "").length;
    for (const [number, row] of rows) {
      const state = row.querySelector("[data-state]");
      row.toggleAttribute("data-wrong", Boolean(memory.wrong[number]));
      if (memory.wrong[number]) state.textContent = memory.wrong[number];
      else if (waiting.includes(number)) state.textContent = keeps ? "Kept on this device, not sent yet." : "Not sent yet.";
      else if (row.dataset.kept === "yes" && row.dataset.now) state.textContent = "In the store.";
    }
    const words = [`${read} of ${rows.size} read.`];
    if (waiting.length > 0)
      words.push(
        away
          ? `No connection: ${waiting.length} not sent; they are ${keeps ? "kept on this device and" : ""} sent when it is back.`
          : `${waiting.length} not sent yet.`,
      );
    if (wrong.length > 0) words.push(`${wrong.length} to be mended.`);
    if (waiting.length + wrong.length === 0 && read > 0) words.push("All of them are in the store.");
    if (!keeps) words.push("This browser keeps nothing: leave the page open until all is sent.");
    const text = words.join(" ");
    if (status.textContent !== text) status.textContent = text;
    form.dataset.unsent = String(waiting.length);
  }

  function body(sending) {
    const data = new URLSearchParams();
    for (const name of ["csrf", "session", "date", "operator", "laps"]) data.append(name, valueOf(name));
    for (const pass of new Set(sending.map(passOf))) {
      for (const what of ["time", "excluded_reason"]) data.append(`pass.${pass}.${what}`, valueOf(`pass.${pass}.${what}`));
      for (const what of valueOf(`pass.${pass}.happened`)) data.append(`pass.${pass}.happened`, what);
    }
    for (const row of sending) {
      for (const field of rows.get(row).querySelectorAll("[name]")) data.append(field.name, field.value);
      data.append(`row.${row}.typed_at`, memory.typed[row]);
    }
    return data;
  }

  function post(sending) {
    return fetch(form.action, {
      method: "POST",
      headers: { Accept: "application/json" },
      body: body(sending),
    });
  }

  // The token of a page that was kept is older than the server's last start.
  async function renewToken() {
    const answer = await fetch(location.href, { headers: { Accept: "text/html" }, cache: "no-store" });
    const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
    const token = fresh.querySelector("input[name=csrf]")?.value;
    if (token) for (const field of named("csrf")) field.value = token;
  }

  async function send() {
    const sending = unsent().filter((row) => !memory.wrong[row]);
    if (busy || sending.length === 0) return show();
    busy = true;
    const stamps = Object.fromEntries(sending.map((row) => [row, memory.typed[row]]));
    let taken = false;
    try {
      let answer = await post(sending);
      if (answer.status === 403) {
        await renewToken();
        answer = await post(sending);
      }
      away = false;
      if (!answer.ok) throw new Error(`the server answers ${answer.status}`);
      const said = await answer.json();
      load();
      for (const number of said.kept.map(String)) {
        if (memory.typed[number] === stamps[number]) delete memory.typed[number];
        rows.get(number).dataset.kept = "yes";
        rows.get(number).dataset.now = "yes";
      }
      for (const { number, sentence } of said.wrong)
        if (memory.typed[number] === stamps[number]) memory.wrong[number] = sentence;
      save();
      taken = true;
    } catch {
      away = true;
    } finally {
      busy = false;
      show();
    }
    // What was typed meanwhile.
    if (taken) await send();
  }

  load();
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
    load();
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
