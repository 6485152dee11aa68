"use strict";
// Looks tonight's settings up in the table of this page. No network, no storage.
(() => {
  const sheet = JSON.parse(document.getElementById("sheet").textContent);
  const answer = document.getElementById("answer");
  const picked = (name) => document.querySelector(`input[name="${name}"]:checked`);
  const add = (parent, tag, text) => {
    const element = document.createElement(tag);
    element.textContent = text;
    element.dir = "auto";
    parent.append(element);
    return element;
  };
  const show = () => {
    const [temperature, weather, people] = ["temperature", "weather", "people"].map(picked);
    if (!temperature || !weather || !people) {
      return;
    }
    const [t, w, p] = [temperature, weather, people].map((input) => Number(input.value));
    const cell = sheet.cells[((w * sheet.people.length) + p) * sheet.temperatures.length + t];
    const where = document.createElement("div");
    add(where, "h2", [sheet.temperatures[t], sheet.weathers[w], sheet.people[p]].join(" · "));
    if (cell < 0) {
      add(where, "p", cell === -1
        ? "The table has no such night: it is too warm for snow or too cold for rain. Take what is most like it."
        : "This night could not be calculated. Go by the running card of the plan.");
    } else {
      document.querySelectorAll(`#s${cell} > *`).forEach((part) => where.append(part.cloneNode(true)));
    }
    answer.dataset.cell = String(cell);
    answer.replaceChildren(where);
  };
  document.documentElement.classList.add("live");
  document.getElementById("all").open = false;
  document.querySelectorAll("input[type=radio]").forEach((input) => input.addEventListener("change", show));
  // A browser may keep what was tapped before the page was left.
  show();
})();
