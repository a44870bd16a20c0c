// The work list: search as typed, drop files, follow what is being recognized.
import { send, say, tell, free } from "./base.js";

const rows = document.getElementById("rows");
const query = document.getElementById("query");
const form = document.getElementById("find");
let page = 0, asked = 0, waiting;

async function refresh(quiet = false) {
  const mine = ++asked;
  const show = form.elements.show.value;
  const found = await send("/list", { json: { query: query.value, show, page } });
  if (mine !== asked) return;
  const focused = rows.contains(document.activeElement) ? document.activeElement.getAttribute("href") : null;
  rows.innerHTML = found.rows;
  if (focused) rows.querySelector(`a[href="${focused}"]`)?.focus();
  if (!quiet) say(`${rows.querySelectorAll("tbody tr").length} cases`);
  follow(found.busy);
}

function follow(busy) {
  clearTimeout(waiting);
  if (busy) waiting = setTimeout(() => refresh(true).catch(() => follow(true)), 1000);
}

form.addEventListener("submit", (event) => { event.preventDefault(); page = 0; refresh(); });
query.addEventListener("input", () => { page = 0; clearTimeout(waiting); waiting = setTimeout(refresh, 120); });
form.addEventListener("change", (event) => { if (event.target.name === "show") { page = 0; refresh(); } });
rows.addEventListener("click", (event) => {
  const to = event.target.closest("[data-page]");
  if (to) { page = Number(to.dataset.page); refresh(); }
});

async function add(files) {
  if (!files.length) return;
  const body = new FormData();
  for (const file of files) body.append("files", file);
  try {
    const taken = await send("/cases", { body });
    if (taken.refused.length) tell(taken.refused.join(" "));
    say(`${taken.cases.length} added`);
    await refresh(true);
  } catch (error) { tell(error.message); }
}
document.getElementById("files")?.addEventListener("change", (event) => { add([...event.target.files]); event.target.value = ""; });
const drop = document.getElementById("drop");
let depth = 0;
const has = (event) => [...(event.dataTransfer?.types || [])].includes("Files");
addEventListener("dragenter", (event) => { if (has(event)) { depth++; drop.hidden = false; } });
addEventListener("dragleave", (event) => { if (has(event) && --depth <= 0) { depth = 0; drop.hidden = true; } });
addEventListener("dragover", (event) => { if (has(event)) event.preventDefault(); });
addEventListener("drop", (event) => { if (!has(event)) return; event.preventDefault(); depth = 0; drop.hidden = true; add([...event.dataTransfer.files]); });

addEventListener("keydown", (event) => {
  if (event.key === "Escape" && event.target === query) query.blur();
  if (!free(event)) return;
  if (event.key === "/") { event.preventDefault(); query.focus(); return; }
  if (event.key === "d") { location.href = "/dictate"; return; }
  if (event.key !== "j" && event.key !== "k") return;
  const links = [...rows.querySelectorAll("tbody a")];
  const at = links.indexOf(document.activeElement);
  links[Math.max(0, Math.min(links.length - 1, at + (event.key === "j" ? 1 : -1)))]?.focus();
});
follow(rows.querySelector("table")?.dataset.busy === "yes");
