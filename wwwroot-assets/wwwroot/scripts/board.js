// Taking hold of openings in the drawings of the van: by mouse, pen, finger and keys. Where a thing may lie is decided by the
// server; here only its outline follows the hand.

const keys = new Set(["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown", "+", "=", "-", "o", "O", "r", "R", "Delete", "Enter", " "]);

// Less than this is a press, not a way, in pixels of the screen.
const slack = 4;

export function listen(board, desk) {
  // The page was left before this script came.
  if (board === null) {
    return { stop() { } };
  }

  const stop = new AbortController();
  const options = { signal: stop.signal };
  let held = null;

  function pointOf(svg, e) {
    const point = new DOMPoint(e.clientX, e.clientY).matrixTransform(svg.getScreenCTM().inverse());
    return { x: point.x, y: point.y };
  }

  // One question at a time; what is asked meanwhile is forgotten but for the last.
  async function ask() {
    if (held === null || held.asking) {
      return;
    }

    const mine = held;
    mine.asking = true;
    while (mine.next !== null) {
      const { along, up } = mine.next;
      mine.next = null;
      const reason = await desk.invokeMethodAsync("Drag", mine.view, mine.id, along, up, mine.grip);
      mine.outline?.classList.toggle("board-refused", reason !== null);
    }

    mine.asking = false;
    mine.asked?.();
  }

  async function letGo(gaveUp) {
    const mine = held;
    if (mine === null) {
      return;
    }

    if (gaveUp) {
      mine.next = null;
    }

    if (mine.asking) {
      await new Promise(done => { mine.asked = done; });
    }

    held = null;
    mine.outline?.remove();
    if (mine.outline !== null) {
      await desk.invokeMethodAsync("Drop", gaveUp);
    }
  }

  board.addEventListener("pointerdown", e => {
    const handle = e.target.closest("[data-handle]");
    if (e.button !== 0 || handle === null || held !== null) {
      return;
    }

    const svg = handle.closest("[data-board]");
    const grip = e.target.closest("[data-grip]");
    const from = (grip ?? handle).dataset;
    const box = handle.querySelector("rect");
    held = {
      pointer: e.pointerId, view: svg.dataset.board, id: handle.dataset.handle, grip: grip !== null, svg, handle,
      free: handle.dataset.free === "true", start: pointOf(svg, e), pixel: { x: e.clientX, y: e.clientY },
      size: { width: Number(box.getAttribute("width")), height: Number(box.getAttribute("height")) },
      along: Number(from.along), up: Number(from.up), units: Number(svg.dataset.units),
      outline: null, next: null, asking: false, asked: null,
    };
    handle.focus({ preventScroll: true });
    board.setPointerCapture(e.pointerId);
    e.preventDefault();
    desk.invokeMethodAsync("Choose", held.id);
  }, options);

  // A finger on a handle moves it, not the page. Said here too: not every browser heeds touch-action inside a drawing.
  board.addEventListener("touchstart", e => {
    if (e.target.closest("[data-free=true]")) {
      e.preventDefault();
    }
  }, { ...options, passive: false });

  board.addEventListener("pointermove", e => {
    if (held === null || e.pointerId !== held.pointer) {
      return;
    }

    if (held.outline === null) {
      if (!held.free || Math.hypot(e.clientX - held.pixel.x, e.clientY - held.pixel.y) < slack) {
        return;
      }

      held.outline = held.handle.querySelector("rect").cloneNode(false);
      held.outline.setAttribute("class", "board-outline");
      held.svg.append(held.outline);
    }

    const at = pointOf(held.svg, e);
    const [right, down] = [at.x - held.start.x, at.y - held.start.y];
    if (held.grip) {
      for (const [side, by] of [["width", right], ["height", down]]) {
        held.outline.setAttribute(side, Math.max(4, held.size[side] + by));
      }
    } else {
      held.outline.setAttribute("transform", `translate(${right} ${down})`);
    }

    held.next = { along: held.along + right / held.units, up: held.up - down / held.units };
    ask();
  }, options);

  board.addEventListener("pointerup", e => {
    if (e.pointerId === held?.pointer) {
      letGo(false);
    }
  }, options);
  board.addEventListener("pointercancel", e => {
    if (e.pointerId === held?.pointer) {
      letGo(true);
    }
  }, options);

  board.addEventListener("keydown", e => {
    if (e.key === "Escape" && held !== null) {
      e.preventDefault();
      letGo(true);
      return;
    }

    const handle = e.target.closest?.("[data-handle]");
    if (!handle || e.ctrlKey || e.metaKey || e.altKey || !keys.has(e.key)) {
      return;
    }

    e.preventDefault();
    const { handle: id } = handle.dataset;
    if (e.key === "Enter" || e.key === " ") {
      desk.invokeMethodAsync("Choose", id);
    } else {
      desk.invokeMethodAsync("Press", handle.closest("[data-board]").dataset.board, id, e.key, e.shiftKey);
    }
  }, options);

  // Numbers of what is pointed at or focused, in a line that is always there. What the keyboard is on stays when the pointer leaves.
  const numbers = board.querySelector(".board-numbers");
  let pointed = null;
  let focused = null;

  function partOf(target) {
    const part = target.closest?.("[data-handle], [data-spot], [data-subject]");
    return part ? { id: part.dataset.handle ?? part.dataset.spot ?? part.dataset.subject, figure: part.closest("figure") } : null;
  }

  function textOf(part) {
    const within = part?.figure?.isConnected ? part.figure : null;
    const named = within?.querySelector(`[data-handle="${CSS.escape(part.id)}"], [data-spot="${CSS.escape(part.id)}"]`);
    return named?.dataset.numbers ?? named?.getAttribute("aria-label")
      ?? within?.querySelector(`[data-subject="${CSS.escape(part.id)}"] > title`)?.textContent ?? "";
  }

  function tell() {
    const text = textOf(pointed) || textOf(focused);
    if (numbers.textContent !== text) {
      numbers.textContent = text;
    }
  }

  board.addEventListener("pointerover", e => { pointed = partOf(e.target); tell(); }, options);
  board.addEventListener("pointerleave", () => { pointed = null; tell(); }, options);
  board.addEventListener("focusin", e => { focused = partOf(e.target); tell(); }, options);
  board.addEventListener("focusout", () => { focused = null; tell(); }, options);
  const changes = new MutationObserver(tell);
  for (const figure of board.querySelectorAll("figure")) {
    changes.observe(figure, { subtree: true, childList: true, attributes: true, attributeFilter: ["aria-label", "data-numbers"] });
  }
  stop.signal.addEventListener("abort", () => changes.disconnect());

  // A press on any other part asks for its inputs: one listener for all parts, where each had one that every change renewed.
  board.addEventListener("click", e => {
    const part = e.target.closest("[data-subject]");
    if (part !== null && e.target.closest("[data-handle]") === null) {
      desk.invokeMethodAsync("Ask", part.dataset.subject);
    }
  }, options);
  for (const rest of ["keyup", "focusout"]) {
    board.addEventListener(rest, e => {
      if (held === null && e.target.closest?.("[data-handle]") && (rest === "focusout" || e.key.startsWith("Arrow"))) {
        desk.invokeMethodAsync("Rest");
      }
    }, options);
  }

  return { stop: () => stop.abort() };
}
