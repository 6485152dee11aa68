// Shows what happens to the live connection, and lets the reader ask for another try.

const dialog = document.getElementById("components-reconnect-modal");

dialog.addEventListener("components-reconnect-state-changed", event => {
  switch (event.detail.state) {
    case "show":
      dialog.showModal();
      break;
    case "hide":
      dialog.close();
      break;
    case "failed":
      document.addEventListener("visibilitychange", retryWhenSeen);
      break;
    case "rejected":
      location.reload();
      break;
  }
});

document.getElementById("line-lost-retry").addEventListener("click", retry);
document.getElementById("line-lost-resume").addEventListener("click", resume);

async function retry() {
  document.removeEventListener("visibilitychange", retryWhenSeen);
  try {
    if (!await Blazor.reconnect() && !await Blazor.resumeCircuit()) {
      location.reload();
    } else {
      dialog.close();
    }
  } catch {
    // The server does not answer: try again when the reader comes back to this page.
    document.addEventListener("visibilitychange", retryWhenSeen);
  }
}

async function resume() {
  if (!await Blazor.resumeCircuit()) {
    location.reload();
  }
}

async function retryWhenSeen() {
  if (document.visibilityState === "visible") {
    await retry();
  }
}
