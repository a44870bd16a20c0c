// Dictating: sound is sent in pieces as it is spoken and kept before it is acknowledged; unsent pieces are sent again.
import { send, get, say, tell, free } from "./base.js";

const $ = (name) => document.getElementById(name);
const main = $("main"), button = $("record");
const PIECE_MS = 1000, ASK_SIDE_S = 60;
let recorder, recording, caseId, context, analyser, tick, begun = 0, spoken = 0, ended = false, side = null;
const unsent = [];
let number = 0, sendingNow = null;

const seconds = () => spoken + (recorder?.state === "recording" ? (performance.now() - begun) / 1000 : 0);

async function begin() {
  const reason = $("reason");
  if (reason && !reason.value.trim()) { tell("Say first why the signed case is added to."); reason.focus(); return; }
  let stream;
  try { stream = await navigator.mediaDevices.getUserMedia({ audio: { channelCount: 1, echoCancellation: false } }); }
  catch { tell("The browser gives no microphone to this page; allow it and try again."); return; }
  const type = ["audio/webm;codecs=opus", "audio/ogg;codecs=opus", "audio/mp4"].find((t) => MediaRecorder.isTypeSupported(t)) || "";
  try {
    const made = await send("/dictations", { json: { case: main.dataset.case || null, reason: reason?.value || "", media_type: type } });
    recording = made.recording; caseId = made.case;
  } catch (error) { stream.getTracks().forEach((t) => t.stop()); tell(error.message); return; }
  recorder = new MediaRecorder(stream, { mimeType: type || undefined, audioBitsPerSecond: 64000 });
  recorder.ondataavailable = (event) => { if (event.data.size) { unsent.push({ number: number++, data: event.data }); flush(); } };
  recorder.onstop = () => { stream.getTracks().forEach((t) => t.stop()); context.close(); finish(); };
  context = new AudioContext();
  analyser = context.createAnalyser();
  context.createMediaStreamSource(stream).connect(analyser);
  recorder.start(PIECE_MS);
  begun = performance.now();
  tick = setInterval(show, 100);
  follow();
  draw();
}

// One piece at a time, in order; each is tried until it is acknowledged.
function flush() {
  sendingNow ||= (async () => {
    while (unsent.length) {
      const piece = unsent[0];
      try {
        await send(`/dictations/${recording}/pieces/${piece.number}`, { method: "PUT", body: piece.data });
        unsent.shift();
        $("kept").textContent = ended ? "Everything is kept." : "What you said is kept as you speak.";
      } catch (error) {
        if (error.status && error.status < 500) { tell(error.message); break; }
        $("kept").textContent = `The program does not answer; ${unsent.length} pieces wait here and are sent when it does.`;
        await new Promise((done) => setTimeout(done, 700));
      }
    }
    sendingNow = null;
  })();
  return sendingNow;
}

function pause() {
  if (recorder.state === "recording") { spoken = seconds(); recorder.pause(); }
  else if (recorder.state === "paused") { begun = performance.now(); recorder.resume(); }
  draw();
}

function end() {
  spoken = seconds();
  ended = true;
  recorder.stop();
  draw();
}

async function finish() {
  clearInterval(tick);
  $("level").value = 0;
  await flush();
  for (;;) {
    try { await send(`/dictations/${recording}/end`); break; }
    catch (error) { if (error.status && error.status < 500) { tell(error.message); return; } await new Promise((done) => setTimeout(done, 700)); }
  }
  $("kept").textContent = "Ended. The whole of it is being recognized.";
}

const buffer = new Float32Array(1024);
function show() {
  const now = Math.floor(seconds());
  $("clock").textContent = `${Math.floor(now / 60)}:${String(now % 60).padStart(2, "0")}`;
  analyser.getFloatTimeDomainData(buffer);
  $("level").value = recorder.state === "recording" ? Math.min(1, 5 * Math.sqrt(buffer.reduce((s, x) => s + x * x, 0) / buffer.length)) : 0;
  $("ask-side").hidden = !!side || !!main.dataset.case || now < ASK_SIDE_S;
}

function draw() {
  const state = recorder?.state || "inactive";
  button.classList.toggle("on", state === "recording");
  button.classList.toggle("paused", state === "paused");
  $("record-word").textContent = ended ? "Ended" : { inactive: "Begin", recording: "End", paused: "Go on" }[state];
  button.disabled = ended;
  $("pause").disabled = $("end").disabled = state === "inactive" || ended;
  $("pause").firstChild.textContent = state === "paused" ? "Go on " : "Pause ";
}

function understood(now) {
  if (now.side && now.side !== side) { side = now.side; $("side").textContent = side; $("side").classList.remove("none"); }
  const rows = now.facts.map(([name, value]) => {
    const row = document.createElement("div");
    row.append(Object.assign(document.createElement("dt"), { textContent: name }), Object.assign(document.createElement("dd"), { textContent: value }));
    return row;
  });
  $("facts").replaceChildren(...rows);
  const lines = now.heard.split(/(?<=[.?!])\s+/).filter(Boolean);
  if (lines.length) $("heard").replaceChildren(...lines.map((line) => Object.assign(document.createElement("p"), { textContent: line })));
}

async function follow() {
  try {
    const now = await get(`/dictations/${recording}/heard`);
    if (now.state === "done") { readBack(); return; }
    if (now.state === "failed") { tell(now.problem); return; }
    if (now.heard) understood(now);
    if (now.state === "waiting" && now.percent !== null) $("kept").textContent = `Ended. ${now.percent}% recognized.`;
  } catch { /* the program may be starting again; what was said is kept here until it answers */ }
  setTimeout(follow, 800);
}

async function readBack() {
  const back = await get(`/cases/${caseId}/read-back`);
  understood({ ...back, heard: back.heard });
  $("kept").textContent = "Recognized.";
  const lines = [`side: ${back.side || "never said"}`, ...back.facts.map(([name, value]) => `${name}: ${value}`)];
  $("read-back-list").replaceChildren(...lines.map((line) => Object.assign(document.createElement("li"), { textContent: line })));
  $("read-back").hidden = false;
  $("go").href = `/cases/${caseId}`;
  $("go").focus();
  say(`Recognized. ${lines.join("; ")}`);
  $("aloud").onclick = () => {
    speechSynthesis.cancel();
    for (const line of lines) speechSynthesis.speak(new SpeechSynthesisUtterance(line.replace(/\bmm\b/g, "millimeters")));
  };
}

button.addEventListener("click", () => { if (!recorder) begin(); else if (recorder.state === "paused") pause(); else end(); });
$("pause").addEventListener("click", pause);
$("end").addEventListener("click", end);
addEventListener("beforeunload", (event) => { if (unsent.length) event.preventDefault(); });
addEventListener("keydown", (event) => {
  if (!free(event)) return;
  if (event.key === "r" && !recorder) begin();
  if (event.key === "p" && recorder && !ended) pause();
  if (event.key === "e" && recorder && !ended) end();
});
