// Drawing a layer of a wall to another place in its list, by mouse, pen and finger. For keys each layer has two buttons.

export function listen(list, desk) {
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

  list.addEventListener("pointerdown", e => {
    const grip = e.target.closest(".layer-grip");
    if (e.button !== 0 || grip === null || held !== null) {
      return;
    }

    const layer = grip.closest(".layer");
    const from = layers().indexOf(layer);
    held = { pointer: e.pointerId, layer, from, to: from, wanted: from };
    layer.classList.add("held");
    list.setPointerCapture(e.pointerId);
    e.preventDefault();
  }, options);

  list.addEventListener("pointermove", e => {
    if (held === null || e.pointerId !== held.pointer) {
      return;
    }

    // It takes the place of the layer the hand is over.
    const over = layers().findIndex(layer => e.clientY < layer.getBoundingClientRect().bottom);
    held.wanted = over < 0 ? layers().length - 1 : over;
    mark(held.wanted);
  }, options);

  list.addEventListener("pointerup", e => { if (held?.pointer === e.pointerId) { letGo(false); } }, options);
  list.addEventListener("pointercancel", e => { if (held?.pointer === e.pointerId) { letGo(true); } }, options);
  document.addEventListener("keydown", e => { if (e.key === "Escape") { letGo(true); } }, options);
  return { stop: () => stop.abort() };
}
