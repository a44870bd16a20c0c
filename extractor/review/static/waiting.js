// A case being recognized: progress and first facts, then the case itself.
import { get, send, tell } from "./base.js";

const main = document.getElementById("main");
const place = document.getElementById("progress");
async function look() {
  try {
    const now = await get(`/cases/${main.dataset.case}/progress`);
    if (now.version > 0) { location.reload(); return; }
    place.innerHTML = now.progress;
    if (now.state === "failed") return;
  } catch { /* the program may be starting again */ }
  setTimeout(look, 700);
}
place.addEventListener("click", async (event) => {
  const finish = event.target.closest("[data-finish]");
  if (!finish) return;
  try { await send(`/dictations/${finish.dataset.finish}/end`); } catch (error) { tell(error.message); }
});
setTimeout(look, 500);
