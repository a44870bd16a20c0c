// A case page: each act is one request; the regions come back drawn anew.
import { send, get, say, tell, free } from "./base.js";
import * as sound from "./sound.js";
import { main, questions, sheet, items, find, select, selected, step, unread, nextQuestion, selection, current } from "./items.js";

const id = main.dataset.case, may = main.dataset.may === "yes";
const dialog = document.getElementById("dialog");
const keysOn = document.getElementById("keys-on");
let sending = false;

function draw(data) {
  main.dataset.version = data.version;
  main.dataset.ready = data.ready ? "yes" : "no";
  questions.innerHTML = data.questions;
  sheet.innerHTML = data.sheet;
}

// Where to look after an act: what was asked for, else the next thing to do.
function goOn(from) {
  const left = questions.querySelector(".question.is-stop");
  if (from?.type === "question") {
    const next = questions.querySelector(".question");
    if (left || (next && !unread().length)) { select(left || next); return; }
  }
  if (main.dataset.ready === "yes") { select(null); document.getElementById("sign")?.focus(); document.getElementById("sign")?.scrollIntoView({ block: "nearest" }); return; }
  const todo = unread();
  if (todo.length) { select(todo.find((i) => from?.place && i.compareDocumentPosition(from.place) & Node.DOCUMENT_POSITION_PRECEDING) || todo[0]); return; }
  select(left || questions.querySelector(".question") || null);
}

async function act(what, after) {
  if (sending || !may) return false;
  sending = true;
  try {
    const data = await send(`/cases/${id}/acts`, { json: { version: Number(main.dataset.version), act: what } });
    draw(data);
    after(data);
    return true;
  } catch (error) {
    if (error.status === 409) {
      const here = current;
      draw(error.data);
      select(find(here) || null, { focus: false });
      tell(error.message, [["Do it all the same", () => act(what, after)], ["Let it be", () => select(find(here) || items()[0])]]);
    } else {
      tell(error.message);
      say(error.message);
    }
    return false;
  } finally { sending = false; }
}

const words = (item) => `${item.querySelector(".name")?.textContent || ""} ${item.querySelector(".value")?.textContent || ""}`.trim();

function accept(item) {
  const told = words(item), fact = item.dataset.fact, primary = item.dataset.primary === "yes";
  act({ do: "accept", fact }, () => {
    say(`accepted: ${told}`);
    const here = find({ type: "fact", id: fact });
    if (primary) { goOn({ type: "fact", place: here }); return; }
    const all = items();
    select(all[all.indexOf(here) + 1] || here);
  });
}

function reject(item) {
  const told = words(item), fact = item.dataset.fact;
  act({ do: "reject", fact }, () => { say(`rejected: ${told}; u takes it back`); select(find({ type: "fact", id: fact })); });
}

async function change(item) {
  if (item.querySelector("form")) return;
  const html = await get(`/cases/${id}/forms/${encodeURIComponent(item.dataset.fact)}`);
  item.insertAdjacentHTML("beforeend", html);
  const first = item.querySelector("form input, form select");
  first.focus({ preventScroll: true });
  first.select?.();
  item.scrollIntoView({ block: "nearest" });
}

function undo() {
  act({ do: "undo" }, (data) => { say("undone"); select(find({ type: "fact", id: data.fact }) || find(current) || questions.querySelector(".question") || items()[0]); });
}

function sign() {
  if (main.dataset.ready === "yes") {
    act({ do: "sign" }, () => { say("signed"); select(null); const next = document.getElementById("next"); next.tabIndex = -1; next.focus(); });
  } else {
    const left = questions.querySelector(".question.is-stop"), todo = unread();
    tell(left ? "A question must be settled before signing; it is shown now." : `${todo.length} facts are not read yet; the next one is shown now.`);
    select(left || todo[0] || null);
  }
}

function answer(item, number) {
  const button = item.querySelector(`[data-choice="${number}"]`);
  if (!button) return;
  if (!button.dataset.asks) { give(item, number, ""); return; }
  if (item.querySelector("form")) item.querySelector("form").remove();
  const form = document.createElement("form");
  form.dataset.number = number;
  const label = document.createElement("label");
  label.textContent = button.dataset.asks + (button.dataset.hint ? ` (${button.dataset.hint})` : "");
  const input = Object.assign(document.createElement("input"), { required: true, maxLength: 500, autocomplete: "off" });
  label.append(input);
  form.append(label, Object.assign(document.createElement("button"), { textContent: "Keep" }));
  button.setAttribute("aria-expanded", "true");
  button.after(form);
  input.focus();
}

function give(item, choice, text) {
  const place = item.nextElementSibling;
  act({ do: "answer", flag: item.dataset.flag, choice: Number(choice), words: text }, () => { say("settled"); goOn({ type: "question", place }); });
}

async function missed() {
  const where = selection();
  dialog.innerHTML = await send(`/cases/${id}/adding`, { json: where });
  dialog.showModal();
  (dialog.querySelector("[data-propose]") || dialog.querySelector("select")).focus();
}

function added(kind, fields) {
  const place = dialog.querySelector(".adding").dataset;
  act({ do: "add", kind, fields, start: Number(place.start), end: Number(place.end) }, (data) => {
    dialog.close();
    say("added");
    select(find({ type: "fact", id: data.fact }));
  });
}

// forms: changing, answering with words, amending, adding
addEventListener("submit", (event) => {
  const form = event.target;
  event.preventDefault();
  const fields = Object.fromEntries(new FormData(form));
  const item = form.closest("[data-item]");
  if (form.dataset.form === "change") {
    const fact = form.dataset.fact;
    act({ do: "change", fact, fields }, () => { say("changed"); const here = find({ type: "fact", id: fact }); here?.dataset.primary === "yes" ? goOn({ type: "fact", place: here }) : select(here); });
  } else if (form.dataset.form === "amend") {
    act({ do: "amend", words: fields.words }, () => { say("open for amendment"); select(items()[0]); });
  } else if (form.dataset.form === "add") {
    added(form.dataset.kind, Object.fromEntries(Object.entries(fields).filter(([, v]) => v !== "")));
  } else if (form.dataset.number) {
    give(item, form.dataset.number, form.querySelector("input").value);
  }
});

let judging;
addEventListener("input", (event) => {
  const field = event.target;
  if (!field.dataset?.judged) return;
  clearTimeout(judging);
  judging = setTimeout(async () => {
    const form = field.closest("form"), place = form.querySelector(".verdict");
    const what = form.querySelector("[name=what]")?.value || form.dataset.what;
    if (!field.value.trim() || form.dataset.kind === "plan") { place.textContent = ""; return; }
    const verdict = await send("/judge", { json: { what, text: field.value.slice(0, 80), unit: form.dataset.unit || null } });
    place.className = `verdict is-${verdict.level}`;
    place.textContent = verdict.sentence;
  }, 90);
});

const doing = {
  hear: () => { const item = selected() || document.querySelector(".said-line"); if (item && !sound.hear(item.dataset.sound)) say("no sound for this"); },
  accept: () => selected()?.dataset.fact && accept(selected()),
  change: () => selected()?.dataset.fact && change(selected()),
  reject: () => selected()?.dataset.fact && reject(selected()),
  undo, sign, missed,
  read: () => goOn({ type: "fact" }),
  cancel: () => { document.querySelector("form.change")?.remove(); select(selected()); },
  close: () => dialog.close(),
};

addEventListener("click", (event) => {
  const at = event.target;
  const button = at.closest("[data-do]");
  const choice = at.closest("[data-choice]");
  const item = at.closest("[data-item]");
  if (button) { if (item && item !== selected()) select(item); if (button.dataset.do === "cancel" && dialog.open) dialog.querySelector("[data-place]").replaceChildren(); else doing[button.dataset.do](); return; }
  if (choice) { if (item !== selected()) select(item, { focus: false }); answer(item, choice.dataset.choice); return; }
  const proposal = at.closest("[data-propose]");
  if (proposal) { added(proposal.dataset.kind, JSON.parse(proposal.dataset.fields)); return; }
  const shown = at.closest("[data-shows]");
  if (shown) { select(find({ type: "fact", id: shown.dataset.shows }), { sound: true }); return; }
  const word = at.closest(".w[data-f]");
  if (word && getSelection().isCollapsed) { select(find({ type: "fact", id: word.dataset.f }), { sound: true }); return; }
  const clock = at.closest(".clock");
  if (clock) {
    for (const line of document.querySelectorAll(".said-line.selected")) line.classList.remove("selected");
    const line = clock.parentElement;
    line.classList.add("selected");
    sound.hear(line.dataset.sound, 0.1);
    return;
  }
  if (item && !at.closest("form")) select(item, { sound: !!at.closest(".line"), focus: !!at.closest(".line") || item.dataset.item === "question" });
});

// A press moves the focus before it becomes a click. Selecting already then would shift the page under the pointer,
// and the click would land beside what was pressed: so selecting by focus is for the keyboard alone.
let pressing = false;
addEventListener("pointerdown", () => { pressing = true; }, true);
for (const end of ["pointerup", "pointercancel", "keydown"]) addEventListener(end, () => { pressing = false; }, true);
main.addEventListener("focusin", (event) => {
  const item = event.target.closest("[data-item]");
  if (!pressing && item && item !== selected()) select(item, { focus: false });
});

dialog.addEventListener("change", async (event) => {
  if (!("kinds" in event.target.dataset)) return;
  const place = dialog.querySelector("[data-place]");
  const kind = event.target.value;
  const from = dialog.querySelector(".adding").dataset;
  place.innerHTML = kind ? await send(`/cases/${id}/adding`, { json: { start: Number(from.start), end: Number(from.end), kind } }) : "";
  place.querySelector("input, select")?.focus();
});

const keys = {
  j: () => step(1), ArrowDown: () => step(1), k: () => step(-1), ArrowUp: () => step(-1), n: nextQuestion,
  h: doing.hear, a: doing.accept, c: doing.change, x: doing.reject, u: undo, s: sign, m: missed,
};
addEventListener("keydown", (event) => {
  if (event.key === "Escape" && document.querySelector(".fact form.change")) { doing.cancel(); return; }
  if (event.key === "Escape" && event.target.closest?.(".question form")) { const item = event.target.closest(".question"); event.target.closest("form").remove(); select(item); return; }
  if (!free(event) || !keysOn.checked || event.target.type === "radio") return;
  if (dialog.open) {
    if (/^[1-9]$/.test(event.key)) { event.preventDefault(); dialog.querySelectorAll("[data-propose]")[event.key - 1]?.click(); }
    return;
  }
  const item = selected();
  if (/^[1-9]$/.test(event.key) && item?.dataset.flag) { event.preventDefault(); answer(item, event.key); return; }
  if (!may && "acxusm".includes(event.key)) return;
  const doIt = keys[event.key];
  if (doIt) { event.preventDefault(); doIt(); }
});
document.querySelector(".hearing").addEventListener("change", (event) => { if (event.target.name === "speed") sound.speed(Number(event.target.value)); });

// an addendum being recognized, or another at work, shows when it is there
async function look() {
  try {
    const now = await get(`/cases/${id}/progress`);
    if (now.version !== Number(main.dataset.version) && !now.busy && main.dataset.busy === "yes") { location.reload(); return; }
  } catch { /* the program may be starting again */ }
  setTimeout(look, 1500);
}
if (main.dataset.busy === "yes") look();
const first = questions.querySelector(".question") || unread()[0];
if (first && may) select(first, { scroll: false });   // the page opens at its top
document.documentElement.dataset.ready = "yes";
