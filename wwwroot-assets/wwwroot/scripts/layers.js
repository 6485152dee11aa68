// Drawing a layer of a wall to another place in its list, by mouse, pen and finger. For keys each layer has two buttons.

// How near an edge, in pixels; the nearer, the faster.
const edge = 40;
const slower = 8;

// What scrolls the list: its pane, or the page on a phone.
const frameOf = list => {
  for (let one = list.parentElement; one !== null && one !== document.body; one = one.parentElement) {
    if (one.scrollHeight > one.clientHeight && /auto|scroll/.test(getComputedStyle(one).overflowY)) {
      return one;
    }
  }

  return document.scrollingElement;
};

export function listen(list, desk) {
  // The page was left before this script came.
  if (list === null) {
    return { stop() { } };
  }

  const stop = new AbortController();
  const options = { signal: stop.signal };
  let held = null;

  const layers = () => [...list.children];

  function mark(to) {
    held.to = to;
    layers().forEach((layer, index) => {
      layer.classList.toggle("drop-above", index === to && to < held.from);
      layer.classList.toggle("drop-below", index === to && to > held.from);
    });
  }

  function letGo(gaveUp) {
    const mine = held;
    if (mine === null) {
      return;
    }

    mark(mine.from);
    mine.layer.classList.remove("held");
    const to = mine.wanted;
    held = null;
    if (!gaveUp && to !== mine.from) {
      desk.invokeMethodAsync("MoveTo", mine.from, to);
    }
  }

  // It takes the place of the layer the hand is over.
  function place() {
    const over = layers().findIndex(layer => held.y < layer.getBoundingClientRect().bottom);
    held.wanted = over < 0 ? layers().length - 1 : over;
    mark(held.wanted);
  }

  // A list longer than its frame goes on under a hand that rests near an edge.
  function scroll() {
    if (held === null) {
      return;
    }

    const { top, bottom } = held.frame === document.scrollingElement ? { top: 0, bottom: window.innerHeight } : held.frame.getBoundingClientRect();
    const past = Math.max(held.y - (bottom - edge), 0) - Math.max(top + edge - held.y, 0);
    const by = Math.sign(past) * Math.ceil(Math.abs(past) / slower);
    if (by !== 0) {
      held.frame.scrollBy(0, by);
      place();
    }

    requestAnimationFrame(scroll);
  }

  list.addEventListener("pointerdown", e => {
    const grip = e.target.closest(".layer-grip");
    if (e.button !== 0 || grip === null || held !== null) {
      return;
    }

    const layer = grip.closest(".layer");
    const from = layers().indexOf(layer);
    held = { pointer: e.pointerId, layer, from, to: from, wanted: from, y: e.clientY, frame: frameOf(list) };
    layer.classList.add("held");
    list.setPointerCapture(e.pointerId);
    e.preventDefault();
  }, options);

  list.addEventListener("pointermove", e => {
    if (held === null || e.pointerId !== held.pointer) {
      return;
    }

    if (!held.moved) {
      held.moved = true;
      requestAnimationFrame(scroll);
    }

    held.y = e.clientY;
    place();
  }, options);

  list.addEventListener("pointerup", e => { if (held?.pointer === e.pointerId) { letGo(false); } }, options);
  list.addEventListener("pointercancel", e => { if (held?.pointer === e.pointerId) { letGo(true); } }, options);
  document.addEventListener("keydown", e => { if (e.key === "Escape") { letGo(true); } }, options);
  return { stop: () => stop.abort() };
}
