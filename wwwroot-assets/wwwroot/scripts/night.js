// Plays a night: the moments come from the server with all their words, here they are only placed. Twenty seconds from before
// supper to breakfast; where the reader asks for still pictures, an hour at a time.

const seconds = 20;
const opacities = [0.06, 0.14, 0.23, 0.32, 0.41];

export function open(root, score) {
  // The page was left before this script came.
  if (root === null) {
    return { stop() { } };
  }

  const stop = new AbortController();
  const options = { signal: stop.signal };
  const button = root.querySelector("[data-play]");
  const scrub = root.querySelector("[data-scrub]");
  const still = matchMedia("(prefers-reduced-motion: reduce)");
  const sides = [...root.querySelectorAll("[data-side]")].map(side => ({
    shades: side.querySelectorAll("[data-shade]"), patterns: side.querySelectorAll("[data-pattern]"), words: side.querySelectorAll("[data-words]"),
    films: side.querySelectorAll("[data-film]"), into: side.querySelectorAll(".night-in"), out: side.querySelectorAll(".night-out"),
    forth: side.querySelectorAll(".night-forth"), back: side.querySelectorAll(".night-back"), steam: side.querySelector("[data-steam]"),
    numbers: side.querySelectorAll("[data-number]"), grams: side.querySelectorAll("[data-grams]"), bars: side.querySelectorAll("[data-bar]"),
  }));
  const last = score.moments.length - 1;
  let started = null;
  let from = 0;
  let frame = 0;

  function arrow(element, width) {
    element.toggleAttribute("data-none", width === 0);
    element.style.setProperty("--flow", width);
  }

  function write(element, text) {
    if (element.textContent !== text) {
      element.textContent = text;
    }
  }

  function show(index) {
    const moment = score.moments[index];
    write(root.querySelector("[data-clock]"), moment.clock);
    write(root.querySelector("[data-doing]"), moment.doing);
    write(root.querySelector("[data-outdoor]"), moment.outdoor);
    root.dataset.moment = index;
    scrub.setAttribute("aria-valuetext", `${moment.clock}, ${moment.doing}: ${score.sides.map(side => side[index].film).join(" and ")} on glass and metal`);
    sides.forEach((side, at) => {
      const now = score.sides[at][index];
      now.steps.forEach((step, zone) => {
        side.shades[zone].style.fillOpacity = opacities[step];
        side.patterns[zone].style.fill = step === 0 ? "none" : `url(#night-step-${step})`;
        write(side.words[zone], now.zoneWords[zone]);
      });
      now.glass.forEach((strength, glass) => {
        side.films[glass].style.fillOpacity = 0.75 * strength;
        side.films[glass].toggleAttribute("data-wet", strength > 0);
      });
      now.in.forEach((width, opening) => arrow(side.into[opening], width));
      now.out.forEach((width, opening) => arrow(side.out[opening], width));
      now.passages.forEach((width, passage) => {
        arrow(side.forth[passage], Math.max(0, width));
        arrow(side.back[passage], Math.max(0, -width));
      });
      if (side.steam !== null) {
        side.steam.style.opacity = now.steam;
      }

      side.numbers.forEach(number => write(number, now[number.dataset.number]));
      now.films.forEach((text, surface) => {
        write(side.grams[surface], text);
        side.bars[surface].style.inlineSize = `${100 * now.filmShares[surface]}%`;
      });
    });
  }

  function at(index) {
    scrub.value = index;
    show(index);
  }

  function pause() {
    cancelAnimationFrame(frame);
    started = null;
    root.toggleAttribute("data-playing", false);
    write(button, "Play");
  }

  function next(time) {
    started ??= time;
    const way = from + (time - started) / 1000 / seconds * last;
    const index = Math.min(last, still.matches ? 6 * Math.floor(way / 6) : Math.floor(way));
    if (index !== Number(scrub.value)) {
      at(index);
    }

    if (way >= last) {
      at(last);
      pause();
    } else {
      frame = requestAnimationFrame(next);
    }
  }

  button.addEventListener("click", () => {
    if (root.hasAttribute("data-playing")) {
      pause();
      return;
    }

    from = Number(scrub.value) >= last ? 0 : Number(scrub.value);
    at(from);
    root.toggleAttribute("data-playing", true);
    write(button, "Pause");
    frame = requestAnimationFrame(next);
  }, options);
  // A hand or a key on the slider takes over from the clock.
  scrub.addEventListener("input", () => {
    pause();
    show(Number(scrub.value));
  }, options);
  pause();
  at(Math.min(last, Number(scrub.value)));
  return {
    stop: () => {
      pause();
      stop.abort();
    },
  };
}
