// Entries are kept in this browser first, under ids made here, and sent when the garden's machine
// answers: once each, in their order. Without this script the forms are sent as plain forms.
"use strict";
(() => {
  const box = document.getElementById("waiting");
  const sent = document.getElementById("sent");
  if (!box) { return; }
  const say = box.dataset;
  const PATIENCE = 20_000; // ms until an answer is given up, and between tries
  const AT_ONCE = 20;
  let base = null; // the browser's own database, null where there is none
  let trouble = "";
  let sending = false;
  let again = false;

  // The queue in the browser ------------------------------------------------------------------

  function open() {
    return new Promise((done, failed) => {
      const asked = indexedDB.open("bedwright-journal", 1);
      asked.onupgradeneeded = () => asked.result.createObjectStore("queue", { keyPath: "seq", autoIncrement: true });
      asked.onsuccess = () => done(asked.result);
      asked.onerror = () => failed(asked.error);
    });
  }
  function inQueue(mode, work) {
    return new Promise((done, failed) => {
      const change = base.transaction("queue", mode, { durability: "strict" });
      const asked = work(change.objectStore("queue"));
      change.oncomplete = () => done(asked ? asked.result : undefined);
      change.onerror = change.onabort = () => failed(change.error);
    });
  }
  const all = () => inQueue("readonly", (queue) => queue.getAll());
  const put = (items) => inQueue("readwrite", (queue) => { items.forEach((each) => queue.put(each)); });
  // Put what is still there: another page of this browser may have sent and dropped it meanwhile.
  const renew = (item) => inQueue("readwrite", (queue) => {
    const asked = queue.getKey(item.seq);
    asked.onsuccess = () => { if (asked.result !== undefined) { queue.put(item); } };
  });
  const drop = (seq) => inQueue("readwrite", (queue) => { queue.delete(seq); });

  // crypto.randomUUID is missing on plain http; getRandomValues is there.
  function newId() {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    bytes[6] = (bytes[6] & 0x0f) | 0x40;
    bytes[8] = (bytes[8] & 0x3f) | 0x80;
    const text = [...bytes].map((each) => each.toString(16).padStart(2, "0")).join("");
    return text.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
  }

  // Sending -------------------------------------------------------------------------------------

  class Trouble extends Error {}

  async function post(address, body, renewed = false) {
    const timer = new AbortController();
    const late = setTimeout(() => timer.abort(), PATIENCE);
    let answer;
    try {
      const headers = { "X-CSRFToken": token };
      if (typeof body === "string") { headers["Content-Type"] = "application/json"; }
      answer = await fetch(address, { method: "POST", body, headers, credentials: "same-origin", redirect: "manual", signal: timer.signal });
    } catch {
      throw new Trouble("offline");
    } finally {
      clearTimeout(late);
    }
    if (answer.type === "opaqueredirect" || answer.status === 401) { throw new Trouble("signin"); }
    if (answer.status === 403 && !renewed) {
      await renewToken();
      return post(address, body, true);
    }
    if (answer.status === 403 || answer.status === 429 || answer.status >= 500) { throw new Trouble("fault"); }
    return answer;
  }
  let token = (document.querySelector("input[name=csrfmiddlewaretoken]") || {}).value || "";
  async function renewToken() {
    try {
      const answer = await fetch(say.token, { credentials: "same-origin", redirect: "manual", cache: "no-store" });
      if (answer.type === "opaqueredirect" || answer.status === 401) { throw new Trouble("signin"); }
      token = (await answer.json()).token;
    } catch (fault) {
      throw fault instanceof Trouble ? fault : new Trouble("offline");
    }
  }

  async function send() {
    if (!base) { return; }
    if (sending) { again = true; return; }
    sending = true;
    try {
      do {
        again = false;
        for (;;) {
          const waiting = (await all()).filter((each) => each.state === "waiting");
          const batch = together(waiting);
          if (!batch.length) { break; }
          await sendBatch(batch);
        }
      } while (again);
      trouble = "";
    } catch (fault) {
      trouble = fault instanceof Trouble ? fault.message : "fault";
      if (navigator.storage && navigator.storage.persist) { navigator.storage.persist().catch(() => {}); }
    } finally {
      sending = false;
      await show();
    }
  }
  // The first of the queue that can go in one letter: of one garden, and each entry once.
  function together(waiting) {
    const ids = new Set();
    const batch = [];
    for (const each of waiting.slice(0, AT_ONCE)) {
      if (each.garden !== waiting[0].garden || ids.has(each.id)) { break; }
      ids.add(each.id);
      batch.push(each);
    }
    return batch;
  }
  async function sendBatch(batch) {
    const ready = [];
    for (const each of batch) {
      if (await sendPhotographs(each)) { ready.push(each); }
    }
    if (!ready.length) { return; }
    const entries = ready.map(({ id, kind, fields, revision }) => ({ id, kind, fields, revision }));
    const answer = await post(say.send, JSON.stringify({ garden: ready[0].garden, entries }));
    const said = await answer.json().catch(() => ({}));
    const byId = new Map((said.results || []).map((each) => [each.id, each]));
    for (const each of ready) {
      const result = byId.get(each.id);
      if (!result) {
        await renew({ ...each, state: "refused", why: said.said || say.fault });
      } else if (result.state === "refused") {
        await renew({ ...each, state: "refused", why: result.faults.map((fault) => fault.said).join(" ") });
      } else if (result.state === "conflict") {
        await renew({ ...each, state: "conflict", why: result.standing, standingRevision: result.revision, address: result.address });
      } else {
        await drop(each.seq);
        reads(result.id, result.revision);
        sayWritten(result);
      }
    }
  }
  // Whether all photographs of an entry are sent; their digests go along in its fields.
  async function sendPhotographs(item) {
    while (item.photographs.length) {
      const form = new FormData();
      form.append("garden", item.garden);
      form.append("photo", item.photographs[0], "photograph");
      const answer = await post(say.photograph, form);
      const said = await answer.json().catch(() => ({}));
      if (!answer.ok) {
        await renew({ ...item, photographs: item.photographs.slice(1), state: "refused", why: said.said || say.fault });
        return false;
      }
      item.photographs = item.photographs.slice(1);
      item.fields.photographs = [item.fields.photographs || "", said.digest].join(" ").trim();
      await renew(item);
    }
    return true;
  }

  // What is said ---------------------------------------------------------------------------------

  // A form that changes an entry changes what its own page wrote last, not what it was loaded with.
  function reads(id, revision) {
    for (const form of forms()) {
      if (form.hasAttribute("data-change") && form.elements.namedItem("id").value === id) {
        form.elements.namedItem("revision").value = revision;
      }
    }
  }
  function sayWritten(result) {
    sent.replaceChildren(`${say.written} ${result.words} `, link(result.address, say.change));
    sent.hidden = false;
  }
  function sayPlain(words) {
    sent.textContent = words;
    sent.hidden = false;
  }
  function link(address, words) {
    const made = document.createElement("a");
    made.href = address;
    made.textContent = words;
    return made;
  }
  function button(words, act) {
    const made = document.createElement("button");
    made.type = "button";
    made.className = "quiet";
    made.textContent = words;
    made.addEventListener("click", () => act(made));
    return made;
  }
  async function show() {
    const items = await all();
    const waiting = items.filter((each) => each.state === "waiting").length;
    box.hidden = !items.length;
    const count = waiting === 0 ? "" : waiting === 1 ? say.one : say.many.replace("%n", waiting);
    const why = waiting && trouble ? say[trouble] || say.fault : "";
    box.querySelector(".count").textContent = [count, why].filter(Boolean).join(" ");
    box.querySelector(".queue").replaceChildren(...items.map(line));
  }
  function line(item) {
    const made = document.createElement("li");
    const words = document.createElement("p");
    words.textContent = item.words;
    made.append(words);
    if (item.state !== "waiting") {
      const why = document.createElement("p");
      why.className = "why";
      why.textContent = `${item.state === "conflict" ? say.conflict : say.refused} ${item.why}`;
      made.append(why, button(say.mend, () => mend(item)), " ");
    }
    made.append(button(say.drop, async (pressed) => {
      if (pressed.textContent !== say.sure) { pressed.textContent = say.sure; return; }
      await drop(item.seq);
      await show();
    }));
    return made;
  }

  // Forms ------------------------------------------------------------------------------------------

  const forms = () => [...document.querySelectorAll("form.entry")];
  const kindOf = (form) => form.elements.namedItem("kind").value;

  function gather(form) {
    const fields = {};
    const photographs = [];
    for (const [name, value] of new FormData(form)) {
      if (value instanceof File) {
        if (value.size) { photographs.push(value); }
      } else if (value.trim() && !["csrfmiddlewaretoken", "id", "kind", "revision"].includes(name)) {
        fields[name] = value;
      }
    }
    const change = form.hasAttribute("data-change");
    const revision = change ? Number(form.elements.namedItem("revision").value) : null;
    return { id: change ? form.elements.namedItem("id").value : newId(), kind: kindOf(form), fields, photographs, revision, words: wordsOf(form, photographs) };
  }
  function wordsOf(form, photographs) {
    const planned = form.closest("li");
    const bed = form.elements.namedItem("bed");
    const where = bed && bed.value ? `, ${say.bed} ${bed.value}` : "";
    if (form.hasAttribute("data-planned") && planned) { return planned.querySelector(".act-words").textContent + where; }
    const word = document.querySelector(`.five [data-kind="${kindOf(form)}"]`);
    const parts = [word ? word.textContent : document.title.split(" · ")[0]];
    const what = form.querySelector("input[name=what]:checked");
    if (what) { parts.push(what.parentElement.textContent.trim()); }
    for (const name of ["material", "crop"]) {
      const field = form.elements.namedItem(name);
      if (field && field.value && !field.disabled) { parts.push(field.selectedOptions[0].textContent); }
    }
    for (const input of form.querySelectorAll(".part input, input.short")) {
      const unit = input.parentElement.querySelector("label, .unit");
      if (input.value && !input.disabled && !input.closest("[hidden]") && unit && input.name !== "depth") { parts.push(`${input.value} ${unit.textContent}`); }
    }
    const note = form.elements.namedItem("note");
    if (note && note.value) { parts.push(note.value.slice(0, 80)); }
    return parts.join(" ") + where + (photographs.length ? ` (${say.photographs})` : "");
  }
  function gatherEvening(form) {
    const made = [];
    for (const row of form.querySelectorAll(".tickline")) {
      const tick = row.querySelector("input[type=checkbox]");
      if (!tick.checked) { continue; }
      const fields = Object.fromEntries(new URLSearchParams(row.querySelector("input[type=hidden]").value));
      fields.on = form.elements.namedItem("on").value;
      const { kind } = fields;
      const words = [tick.parentElement.textContent.trim()];
      for (const input of row.querySelectorAll("input:not([type=hidden]):not([type=checkbox])")) {
        if (!input.value.trim()) { continue; }
        fields[input.name.replace(/^b\d+r\d+-/, "")] = input.value;
        const unit = row.querySelector(`label[for="${input.id}"]`);
        words.push(`${input.value}${unit ? ` ${unit.textContent}` : ""}`);
      }
      delete fields.id;
      delete fields.kind;
      made.push({ id: newId(), kind, fields, photographs: [], revision: null, words: `${words.join(" ")}, ${say.bed} ${fields.bed}` });
    }
    return made;
  }

  async function submitted(form) {
    const evening = form.hasAttribute("data-evening");
    const gathered = evening ? gatherEvening(form) : [gather(form)];
    if (!gathered.length) { sayPlain(say.nothing); return; }
    const items = gathered.map((each) => ({ ...each, garden: say.garden, state: "waiting" }));
    const mended = mending.get(form);
    if (mended) {
      items[0].id = mended.id;
      items[0].seq = mended.seq;
      items[0].revision = mended.state === "conflict" ? mended.standingRevision : mended.revision;
      items[0].photographs = [...mended.photographs, ...items[0].photographs];
      items[0].garden = mended.garden;
    }
    try {
      await put(items);
    } catch {
      sayPlain(say.full);
      return;
    }
    mending.delete(form);
    if (form.hasAttribute("data-change")) { reads(items[0].id, items[0].revision + 1); }
    sayPlain(`${say.kept} ${items.map((each) => each.words).join("; ")}`);
    if (evening) {
      form.querySelectorAll(".tickline input[type=checkbox]").forEach((each) => { each.checked = false; });
    } else if (!form.hasAttribute("data-change")) {
      emptied(form);
    }
    await show();
    sent.scrollIntoView({ block: "nearest" });
    await send();
  }
  // The form as for the next entry: bed and day stay, the rest is empty.
  function emptied(form) {
    if (form.hasAttribute("data-planned")) {
      form.closest("li").querySelector(".act-done").textContent = say.done;
      return;
    }
    for (const field of form.querySelectorAll("input:not([type=hidden]):not([type=radio]):not([type=date]), textarea")) {
      field.value = field.name === "depth" ? field.defaultValue : "";
    }
    for (const field of form.querySelectorAll("select")) {
      if (field.name !== "bed") { field.selectedIndex = 0; }
    }
    form.querySelectorAll("input[name=quality], input[name=moisture]").forEach((each) => { each.checked = false; });
    form.querySelectorAll("input[type=hidden][name=plan], input[type=hidden][name=photographs]").forEach((each) => each.remove());
    if (kindOf(form) === "picked") { grown(form.elements.namedItem("bed").value); }
    apply(form);
  }

  const mending = new Map();
  function mend(item) {
    const change = item.revision !== null;
    const form = forms().find((each) => (change ? each.hasAttribute("data-change") && each.elements.namedItem("id").value === item.id
      : !each.hasAttribute("data-change") && kindOf(each) === formOf(item)));
    if (!form) {
      const address = change && item.address ? item.address : `${say.write}?kind=${encodeURIComponent(formOf(item))}`;
      location.assign(`${address}#mend-${item.seq}`);
      return;
    }
    if (!change) { choose(formOf(item)); }
    fill(form, item.fields);
    mending.set(form, item);
    form.scrollIntoView({ block: "start" });
    form.querySelector("select, input:not([type=hidden])").focus();
  }
  const formOf = (item) => (item.kind === "used up" ? "bought" : item.kind);

  function fill(form, fields) {
    if (!form.hasAttribute("data-change")) { emptied(form); }
    for (const [name, value] of Object.entries(fields)) {
      if (name === "kind" || name === "id" || name === "planned") { continue; }
      const field = form.elements.namedItem(name);
      if (!field) {
        const hidden = document.createElement("input");
        Object.assign(hidden, { type: "hidden", name, value });
        form.append(hidden);
      } else if (field instanceof RadioNodeList) {
        field.value = value;
      } else if (field.type !== "file") {
        field.value = value;
      }
    }
    apply(form);
  }

  // Only the fields of what was chosen are shown and sent.
  function apply(form) {
    const chosen = form.querySelector("input[name=what]:checked");
    const what = chosen ? chosen.value : kindOf(form);
    for (const part of form.querySelectorAll("[data-for]")) {
      const shown = part.dataset.for.split("|").includes(what);
      part.hidden = !shown;
      for (const field of part.querySelectorAll("input, select, textarea")) { field.disabled = !shown; }
      if (part.tagName === "FIELDSET") { part.disabled = !shown; }
    }
  }
  function choose(kind) {
    const sections = [...document.querySelectorAll("section.kind")];
    if (!sections.some((each) => each.dataset.kind === kind)) { return; }
    sections.forEach((each) => { each.hidden = each.dataset.kind !== kind; });
    for (const each of document.querySelectorAll(".five a")) {
      if (each.dataset.kind === kind) { each.setAttribute("aria-current", "true"); } else { each.removeAttribute("aria-current"); }
    }
    note({ kind });
  }
  // The address says what is shown, so that a reload shows it again.
  function note(changes) {
    const address = new URL(location.href);
    Object.entries(changes).forEach(([name, value]) => address.searchParams.set(name, value));
    history.replaceState(null, "", address);
  }
  function chooseBed(bed) {
    for (const form of forms()) {
      const field = form.elements.namedItem("bed");
      if (field && [...field.options].some((each) => each.value === bed)) { field.value = bed; }
    }
    for (const each of document.querySelectorAll(".five a")) {
      const address = new URL(each.href);
      address.searchParams.set("bed", bed);
      each.href = address;
    }
    note({ bed });
    grown(bed);
    offer(bed);
  }
  // What is picked of a bed is what grows there, until another crop is chosen.
  function grown(bed) {
    const data = document.getElementById("crop-of-beds");
    const form = forms().find((each) => kindOf(each) === "picked");
    if (data && form && bed) { form.elements.namedItem("crop").value = JSON.parse(data.textContent)[bed] || ""; }
  }
  // What is planned of a bed, from the page's own data.
  function offer(bed) {
    const planned = document.getElementById("planned");
    const data = document.getElementById("planned-of-beds");
    const pattern = document.getElementById("planned-act");
    if (!planned || !data || !pattern) { return; }
    const acts = JSON.parse(data.textContent)[bed] || [];
    planned.hidden = !acts.length;
    planned.querySelector("ul").replaceChildren(...acts.map((act) => {
      const made = pattern.content.cloneNode(true);
      made.querySelector(".act-words").textContent = act.words;
      made.querySelector(".act-measure").textContent = act.measure ? `, ${act.measure}` : "";
      made.querySelector(".act-done").textContent = [act.later ? planned.dataset.later : "", act.done].filter(Boolean).join("; ");
      const form = made.querySelector("form");
      form.elements.namedItem("amount").value = act.amount;
      fillHidden(form, act.fields);
      const other = made.querySelector("[data-instead]");
      other.href = `${say.write}?${act.instead}`;
      return made;
    }));
    days();
  }
  function fillHidden(form, fields) {
    for (const [name, value] of Object.entries(fields)) {
      const hidden = document.createElement("input");
      Object.assign(hidden, { type: "hidden", name, value });
      form.append(hidden);
    }
  }
  // A page that stood open, or came from the browser's store, is a day behind: the day moves on.
  function days() {
    const midnight = (moment) => new Date(moment.getFullYear(), moment.getMonth(), moment.getDate()).getTime();
    const behind = Math.round((midnight(new Date()) - midnight(new Date(Number(say.at) * 1000))) / 86_400_000);
    for (const field of document.querySelectorAll("input[data-day]")) {
      if (!field.dataset.first) { field.dataset.first = field.dataset.day; }
      const moved = new Date(`${field.dataset.first}T12:00:00Z`);
      moved.setUTCDate(moved.getUTCDate() + behind);
      const day = moved.toISOString().slice(0, 10);
      if (behind > 0 && field.value === field.dataset.day) { field.value = day; }
      if (behind > 0) { field.dataset.day = day; }
    }
  }

  // Beginning -----------------------------------------------------------------------------------

  document.addEventListener("submit", (event) => {
    if (!base || !event.target.matches("form[data-entry], form[data-evening]")) { return; }
    event.preventDefault();
    submitted(event.target);
  });
  document.addEventListener("change", (event) => {
    const form = event.target.closest("form.entry");
    if (event.target.name === "what" && form) { apply(form); }
    if (event.target.name === "bed" && form && !form.hasAttribute("data-change")) { chooseBed(event.target.value); }
    if (event.target.id === "on" && event.target.closest("[data-evening]")) { event.target.dataset.day = ""; }
  });
  document.addEventListener("input", (event) => {
    const row = event.target.closest(".tickline");
    if (row && event.target.type !== "checkbox") { row.querySelector("input[type=checkbox]").checked = true; }
  });
  document.addEventListener("click", (event) => {
    const word = event.target.closest(".five a");
    if (word && document.querySelector("section.kind")) {
      event.preventDefault();
      choose(word.dataset.kind);
    }
    const other = event.target.closest("[data-instead]");
    if (other) {
      event.preventDefault();
      const form = forms().find((each) => kindOf(each) === "did");
      fill(form, Object.fromEntries(new URL(other.href).searchParams));
      form.scrollIntoView({ block: "start" });
      (form.querySelector(".part input:not([disabled])") || form.querySelector("input:not([type=hidden])")).focus();
    }
  });
  window.addEventListener("online", () => send());
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden) { days(); send(); }
  });

  forms().forEach(apply);
  days();
  if (document.querySelector("section.kind")) {
    const asked = new URL(location.href).searchParams;
    if (asked.get("kind")) { choose(asked.get("kind")); }
    const bed = document.querySelector("section.kind:not([hidden]) [name=bed]");
    if (asked.get("bed") && bed && bed.value !== asked.get("bed")) { chooseBed(asked.get("bed")); }
  }
  open().then(async (opened) => {
    base = opened;
    document.documentElement.dataset.journal = "ready";
    await show();
    const asked = /^#mend-(\d+)$/.exec(location.hash);
    if (asked) {
      history.replaceState(null, "", location.pathname + location.search);
      const item = (await all()).find((each) => each.seq === Number(asked[1]));
      if (item) { mend(item); }
    }
    await send();
    setInterval(async () => {
      if ((await all()).some((each) => each.state === "waiting")) { send(); }
    }, PATIENCE);
  }).catch(() => { base = null; }); // a private window without a store: plain forms do
  if ("serviceWorker" in navigator && window.isSecureContext) {
    navigator.serviceWorker.register(say.worker).catch(() => {});
  }
})();
