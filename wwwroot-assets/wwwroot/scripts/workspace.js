// What the workspace needs of the browser: undo keys, the way from the drawing to a field, the clock.

const typing = new Set(["text", "search", "email", "number", "url", "tel", "password"]);

// In a field that was changed since it got the focus, undo is the browser's own: it takes back letters, not edits.
function editsItsOwnText(target) {
  const text = target instanceof HTMLTextAreaElement || (target instanceof HTMLInputElement && typing.has(target.type));
  return text && target.value !== target.dataset.atFocus;
}

export function listen(workspace) {
  const stop = new AbortController();
  const options = { signal: stop.signal };
  document.addEventListener("focusin", e => {
    if (e.target instanceof HTMLInputElement || e.target instanceof HTMLTextAreaElement) {
      e.target.dataset.atFocus = e.target.value;
    }
  }, options);
  document.addEventListener("change", e => {
    if (e.target instanceof HTMLInputElement) {
      e.target.dataset.atFocus = e.target.value;
    }
  }, options);
  document.addEventListener("keydown", e => {
    if (!(e.ctrlKey || e.metaKey) || e.altKey || document.querySelector("[role=dialog]")) {
      return;
    }

    const key = e.key.toLowerCase();
    const undo = key === "z" && !e.shiftKey;
    const redo = (key === "z" && e.shiftKey) || (key === "y" && !e.shiftKey);
    if ((undo || redo) && !editsItsOwnText(e.target)) {
      e.preventDefault();
      workspace.invokeMethodAsync(undo ? "Undo" : "Redo");
    }
  }, options);
  return { stop: () => stop.abort() };
}

export function show(anchor) {
  const group = document.querySelector(`[data-anchor="${CSS.escape(anchor)}"]`);
  if (!group) {
    return;
  }

  group.scrollIntoView({ block: "nearest" });
  (group.querySelector("input, select") ?? group.querySelector("button"))?.focus();
}

// Another part of the results starts at its beginning, dangers first.
export function toTop(selector) {
  const pane = document.querySelector(selector);
  if (pane) {
    pane.scrollTop = 0;
    if (pane.getBoundingClientRect().top < 0) {
      pane.scrollIntoView({ block: "start" });
    }
  }
}

// Name of the zone of the browser's clock, as the zone database spells it.
export function timeZone() {
  return Intl.DateTimeFormat().resolvedOptions().timeZone ?? null;
}

export function minutesFromUtc() {
  return -new Date().getTimezoneOffset();
}

// Larger letters while somebody else looks at the screen through a video call.
export function shared(on) {
  document.documentElement.toggleAttribute("data-shared", on);
}

// What a consultant last looked at, in this browser only; a browser that keeps nothing starts anew each time.
export function remember(key, value) {
  try {
    localStorage.setItem(key, value);
  } catch {
    // Storage may be full or forbidden: the choice then lasts as long as the page.
  }
}

export function recall(key) {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}
