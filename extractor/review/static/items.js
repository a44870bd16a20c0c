// Questions and facts as things one can stand on: selecting one marks its words and shows what can be done.
import { hear, hasSound } from "./sound.js";

export const main = document.getElementById("main");
export const questions = document.getElementById("questions");
export const sheet = document.getElementById("sheet");
const said = document.getElementById("said");
export let current = null;   // { type, id } of what is selected; it outlives a redrawing

export const items = () => [...main.querySelectorAll("[data-item]")];
const idOf = (item) => item.dataset.fact || item.dataset.flag;
export const find = (what) => what && items().find((i) => i.dataset.item === what.type && idOf(i) === what.id);
export const selected = () => find(current);
export const unread = () => items().filter((i) => i.dataset.primary === "yes" && i.dataset.state === "unreviewed");

function mark(spans) {
  for (const word of said.querySelectorAll(".w.mark")) word.classList.remove("mark");
  const ranges = (spans || "").split(" ").filter(Boolean).map((s) => s.split("-").map(Number));
  let first = null;
  for (const word of said.querySelectorAll(".w")) {
    const s = Number(word.dataset.s), e = Number(word.dataset.e);
    if (ranges.some(([a, b]) => s < b && e > a)) { word.classList.add("mark"); first ||= word; }
  }
  if (first && getComputedStyle(said).overflowY !== "visible") {
    const box = said.getBoundingClientRect(), at = first.getBoundingClientRect();
    if (at.top < box.top + 30 || at.bottom > box.bottom - 30) said.scrollTop += at.top - box.top - box.height / 3;
  }
}

export function select(item, { focus = true, sound = false, scroll = true } = {}) {
  for (const old of main.querySelectorAll(".selected")) {
    if (old === item) continue;
    old.classList.remove("selected");
    const acts = old.querySelector(".acts");
    if (acts) acts.hidden = true;
    old.querySelector(".line")?.setAttribute("aria-expanded", "false");
  }
  for (const lit of main.querySelectorAll(".lit")) lit.classList.remove("lit");
  if (!item) { current = null; mark(""); return; }
  current = { type: item.dataset.item, id: idOf(item) };
  item.classList.add("selected");
  const acts = item.querySelector(".acts");
  if (acts) acts.hidden = false;
  item.querySelector(".line")?.setAttribute("aria-expanded", "true");
  if (item.dataset.fact) for (const part of sheet.querySelectorAll(`[data-shows="${item.dataset.fact}"]`)) part.classList.add("lit");
  mark(item.dataset.spans);
  if (focus) (item.querySelector(".line") || item).focus({ preventScroll: true });
  if (scroll) item.scrollIntoView({ block: "nearest" });
  if (sound && hasSound) hear(item.dataset.sound);
}

export function step(by) {
  const all = items();
  const at = all.indexOf(selected());
  select(all[Math.max(0, Math.min(all.length - 1, at + by))]);
}

export const nextQuestion = () => {
  const all = [...questions.querySelectorAll(".question")];
  select(all[(all.indexOf(selected()) + 1) % all.length] || null);
};

// The sentence to add a fact from: words selected with the mouse, the sentence stood on, or that of the fact selected.
export function selection() {
  const chosen = getSelection();
  if (chosen && !chosen.isCollapsed && said.contains(chosen.anchorNode)) {
    const inside = [...said.querySelectorAll(".w")].filter((w) => chosen.containsNode(w, true));
    if (inside.length) return { start: Number(inside[0].dataset.s), end: Number(inside.at(-1).dataset.e) };
  }
  const line = said.querySelector(".said-line.selected");
  if (line) return { start: Number(line.dataset.start), end: Number(line.dataset.end) };
  const span = selected()?.dataset.spans?.split(" ")[0]?.split("-");
  return span ? { start: Number(span[0]), end: 0 } : { start: 0, end: 0 };
}
