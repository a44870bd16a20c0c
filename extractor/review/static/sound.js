// Hearing: sound is loaded once and sought; words light up as they are spoken.
const parts = [...document.querySelectorAll("audio")].map((audio) => ({
  audio, offset: Number(audio.dataset.offset), seconds: Number(audio.dataset.seconds),
}));
const words = [...document.querySelectorAll(".w[data-t]")].map((element) => {
  const [from, to] = element.dataset.t.split("-").map(Number);
  return { element, from, to };
});
const EITHER_SIDE = 0.5;
let rate = 1, now = null, lit = null, last = "";

export const hasSound = parts.length > 0;

export function speed(value) {
  rate = value;
  for (const { audio } of parts) audio.playbackRate = rate;
}

function light(seconds) {
  const found = words.findLast((word) => word.from <= seconds);
  const element = found && seconds < found.to + 0.25 ? found.element : null;
  if (element === lit) return;
  lit?.classList.remove("playing");
  element?.classList.add("playing");
  lit = element;
}

export function stop() {
  if (!now) return;
  now.part.audio.pause();
  cancelAnimationFrame(now.frame);
  now = null;
  light(-1);
}

function watch() {
  if (!now) return;
  const at = now.part.audio.currentTime;
  light(at + now.part.offset);
  if (at >= now.until || now.part.audio.ended) { stop(); return; }
  now.frame = requestAnimationFrame(watch);
}

// Play "12.3-14.1" of the whole note with half a second either side; the same again stops it.
export function hear(stretch, side = EITHER_SIDE) {
  if (!stretch) return false;
  if (now && last === stretch) { stop(); return true; }
  stop();
  const [from, to] = stretch.split("-").map(Number);
  const part = parts.findLast((p) => p.offset <= from) || parts[0];
  if (!part) return false;
  last = stretch;
  now = { part, until: to - part.offset + side, frame: 0 };
  part.audio.playbackRate = rate;
  part.audio.preservesPitch = true;
  part.audio.currentTime = Math.max(0, from - part.offset - side);
  part.audio.play().then(() => { if (now) now.frame = requestAnimationFrame(watch); }).catch(stop);
  return true;
}
