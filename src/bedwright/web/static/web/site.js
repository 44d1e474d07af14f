// Script makes the pages quicker; they read and work without it.
"use strict";
// A number's working opens in the margin; where there is none, under the number.
let opened; // the number whose working is open
function underneath(door) {
  const block = door.closest(".table, dl, li, p, h1, h2") ?? door;
  const room = document.createElement("div");
  room.className = "below";
  room.setAttribute("aria-live", "polite");
  if (block.tagName === "LI") block.append(room); else block.after(room);
  return room;
}
document.addEventListener("htmx:beforeSwap", (event) => {
  const door = event.detail.requestConfig.elt;
  if (event.detail.target.id !== "margin" || !door.matches(".door")) return;
  opened = door;
  if (!window.matchMedia("(max-width: 59.99rem)").matches || door.closest("#margin")) return;
  document.querySelectorAll(".below").forEach((each) => each.remove());
  event.detail.target = underneath(door);
});
document.addEventListener("htmx:afterSwap", (event) => {
  event.detail.target.querySelectorAll?.(".close").forEach((each) => { each.hidden = false; });
});
document.addEventListener("click", (event) => {
  const close = event.target.closest?.(".close");
  if (!close) return;
  const below = close.closest(".below");
  if (below) below.remove(); else close.closest("#margin").replaceChildren();
  opened?.focus();
});

// Charts: the bundle that draws them is fetched when the first is opened; figures can be read along
// the drawing by pointer and by arrow keys, and stand in the table either way.
let bundle;
function charts(address) {
  bundle ??= new Promise((done, failed) => {
    const script = document.createElement("script");
    script.src = address;
    script.onload = done;
    script.onerror = failed;
    document.head.append(script);
  });
  return bundle;
}
function readRow(box, at) {
  const rows = [...box.querySelectorAll("table.weeks tbody tr")];
  if (!rows.length) return;
  const here = Math.max(0, Math.min(rows.length - 1, at));
  box.dataset.row = here;
  rows.forEach((row, each) => row.classList.toggle("read", each === here));
  const heads = [...box.querySelectorAll("table.weeks thead th")];
  const cells = [...rows[here].children];
  const words = cells.map((cell, each) => cell.textContent && cell.textContent !== "0" && `${heads[each].textContent}: ${cell.textContent}`);
  box.querySelector(".at").textContent = words.filter(Boolean).join("; ");
}
function readAlong(box, drawn, view) {
  drawn.addEventListener("keydown", (event) => {
    const step = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    if (!step) return;
    event.preventDefault();
    readRow(box, Number(box.dataset.row ?? (step > 0 ? -1 : 1)) + step);
  });
  let scale;
  try { scale = view.scale("x"); } catch { return; }
  const days = [...box.querySelectorAll("table.weeks tbody th")].map((each) => Date.parse(each.dataset.day));
  drawn.addEventListener("pointermove", (event) => {
    const svg = drawn.querySelector("svg");
    const place = svg.getBoundingClientRect();
    const across = ((event.clientX - place.left) / place.width) * svg.viewBox.baseVal.width;
    const on = Number(scale.invert(across - view.padding().left - view.origin()[0]));
    const at = days.findLastIndex((day) => day <= on);
    if (at >= 0) readRow(box, at);
  });
}
async function openChart(box) {
  if (box.dataset.drawn) return;
  box.dataset.drawn = "yes";
  const drawn = box.querySelector(".drawn");
  try {
    const width = Math.floor(box.clientWidth) - 24;
    const [answer] = await Promise.all([fetch(`${box.dataset.spec}?width=${width}`), charts(box.dataset.bundle)]);
    if (!answer.ok) throw new Error(answer.status);
    drawn.hidden = false;
    const options = { mode: "vega-lite", ast: true, actions: false, renderer: "svg", defaultStyle: false, tooltip: false };
    const made = await window.vegaEmbed(drawn, await answer.json(), options);
    if (box.querySelector("table.weeks")) readAlong(box, drawn, made.view);
  } catch (fault) {
    drawn.hidden = false;
    drawn.textContent = box.dataset.fault;
    delete box.dataset.drawn;
  }
}
document.addEventListener("toggle", (event) => {
  if (event.target.matches?.("details.chart") && event.target.open) openChart(event.target);
}, true);

document.querySelectorAll("details.chart[open]").forEach(openChart);

// The shade of another hour: the drawing of this screen's width is enough.
document.addEventListener("htmx:configRequest", (event) => {
  if (!event.detail.elt.matches(".moment")) return;
  event.detail.headers["Drawn-For"] = window.matchMedia("(max-width: 40rem)").matches ? "telephone" : "desk";
});
