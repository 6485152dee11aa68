// The only script of ours on every live page: the appearance a reader chose, kept in a cookie the server reads,
// and small habits of the page that need no round trip.

const yearSeconds = 365 * 24 * 3600;

document.addEventListener("change", event => {
  const choice = event.target;
  if (!(choice instanceof HTMLInputElement) || choice.name !== "desk-theme") {
    return;
  }
  const secure = location.protocol === "https:" ? "; Secure" : "";
  if (choice.value === "system") {
    delete document.documentElement.dataset.theme;
    document.cookie = `desk-theme=; Max-Age=0; Path=/; SameSite=Lax${secure}`;
  } else {
    document.documentElement.dataset.theme = choice.value;
    document.cookie = `desk-theme=${choice.value}; Max-Age=${yearSeconds}; Path=/; SameSite=Lax${secure}`;
  }
});

// The sheet that offers the choice shows the one in force.
document.addEventListener("toggle", event => {
  const inForce = document.documentElement.dataset.theme ?? "system";
  const choice = event.target.querySelector?.(`input[name="desk-theme"][value="${inForce}"]`);
  if (choice) {
    choice.checked = true;
  }
}, true);

// A dropped-down sheet closes when the reader goes elsewhere, and by Escape.
document.addEventListener("click", event => {
  for (const open of document.querySelectorAll("details.drop[open]")) {
    if (!open.contains(event.target) || event.target.closest("a")) {
      open.open = false;
    }
  }
});

document.addEventListener("keydown", event => {
  if (event.key !== "Escape") {
    return;
  }
  for (const open of document.querySelectorAll("details.drop[open]")) {
    open.open = false;
    open.querySelector("summary")?.focus();
  }
});

// A link that was just made is copied where the reader pressed.
document.addEventListener("click", async event => {
  const button = event.target.closest?.("[data-copy]");
  if (!button) {
    return;
  }
  const source = document.getElementById(button.dataset.copy);
  if (!source) {
    return;
  }
  source.select?.();
  await navigator.clipboard.writeText(source.value);
  button.textContent = "Copied";
});

// In a field letters are letters.
function types(target) {
  return target instanceof HTMLElement && (target.isContentEditable || target.matches("input:not([type=checkbox], [type=radio], [type=range]), textarea, select"));
}

document.addEventListener("keydown", event => {
  const list = document.getElementById("shortcuts");
  if (!list || event.ctrlKey || event.metaKey || document.querySelector("[role=dialog], dialog[open]")) {
    return;
  }
  if (event.altKey && !event.shiftKey) {
    const pressed = event.code.startsWith("Digit")
      ? document.querySelectorAll(".pane-results .parts button")[(Number(event.code.slice(5)) + 9) % 10]
      : document.querySelectorAll(".left-parts button")[["KeyI", "KeyS", "KeyA"].indexOf(event.code)];
    if (pressed) {
      event.preventDefault();
      pressed.click();
      pressed.focus();
    }
    return;
  }
  if (event.altKey || types(event.target)) {
    return;
  }
  const search = document.getElementById("search");
  if (event.key === "?") {
    event.preventDefault();
    list.showModal();
  } else if (event.key === "/" && search) {
    event.preventDefault();
    search.focus();
  }
});

document.addEventListener("click", event => {
  if (event.target.closest?.("[data-shortcuts]")) {
    document.getElementById("shortcuts")?.showModal();
  }
});
