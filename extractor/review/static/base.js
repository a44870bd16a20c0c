// What every page uses: requests with the page's own token, and words for eye and ear.
const csrf = document.querySelector("meta[name=csrf]").content;

export async function send(path, { method = "POST", json, body } = {}) {
  const headers = { "x-csrf": csrf };
  if (json !== undefined) { headers["content-type"] = "application/json"; body = JSON.stringify(json); }
  const answer = await fetch(path, { method, headers, body, redirect: "manual" });
  if (answer.type === "opaqueredirect" || answer.status === 401) { location.href = "/enter"; throw new Error("signed out"); }
  const kind = answer.headers.get("content-type") || "";
  const data = kind.includes("json") ? await answer.json() : await answer.text();
  if (!answer.ok) throw Object.assign(new Error(data.error || "That did not work; try again."), { status: answer.status, data });
  return data;
}

export const get = (path) => send(path, { method: "GET" });

export function say(words) { document.getElementById("say").textContent = words; }

// A sentence at the top of the page; `choices` are [word, action] buttons. It goes when answered, or by itself.
let gone;
export function tell(words, choices = []) {
  const place = document.getElementById("told");
  clearTimeout(gone);
  place.replaceChildren(Object.assign(document.createElement("p"), { textContent: words }));
  if (choices.length) {
    const row = document.createElement("p");
    for (const [word, action] of choices) {
      const button = Object.assign(document.createElement("button"), { type: "button", textContent: word });
      button.addEventListener("click", () => { place.hidden = true; action(); });
      row.append(button, " ");
    }
    place.append(row);
  } else {
    gone = setTimeout(() => { place.hidden = true; }, 8000);
  }
  place.hidden = false;
  if (choices.length) place.querySelector("button").focus();
}

// Whether a key is meant for the page and not for a field.
export function free(event) {
  if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return false;
  const at = event.target;
  return !(at instanceof Element && at.closest("input:not([type=radio],[type=checkbox]), select, textarea"));
}

document.getElementById("leave")?.addEventListener("click", async () => { await send("/leave"); location.href = "/enter"; });
