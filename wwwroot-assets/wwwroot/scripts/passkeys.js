// Passkeys on plain pages. A form with data-passkey asks the server for a challenge, the device for an answer, and sends the answer
// as the form's Input.Credential. Without passkeys in the browser the form stays hidden.

const able = window.PublicKeyCredential?.parseRequestOptionsFromJSON && navigator.credentials;

for (const form of document.querySelectorAll("form[data-passkey]")) {
  if (!able) {
    continue;
  }
  form.hidden = false;
  form.addEventListener("submit", async event => {
    event.preventDefault();
    const button = form.querySelector("button");
    const trouble = form.querySelector("[data-trouble]");
    trouble.textContent = "";
    button.disabled = true;
    try {
      const answer = await fetch(form.dataset.options, { method: "POST", body: new URLSearchParams(new FormData(form)), redirect: "error" });
      if (!answer.ok) {
        trouble.textContent = answer.headers.get("Content-Type")?.startsWith("text/plain")
          ? await answer.text() : "The server refused. Load the page again and try once more.";
        return;
      }
      const options = await answer.json();
      const credential = form.dataset.passkey === "create"
        ? await navigator.credentials.create({ publicKey: PublicKeyCredential.parseCreationOptionsFromJSON(options) })
        : await navigator.credentials.get({ publicKey: PublicKeyCredential.parseRequestOptionsFromJSON(options) });
      form.elements["Input.Credential"].value = JSON.stringify(plain(credential));
      for (const secret of form.querySelectorAll("input[type=password]")) {
        secret.disabled = true;
      }
      form.submit();
    } catch (refused) {
      trouble.textContent = refused.name === "InvalidStateError"
        ? "This device has a passkey for your account already."
        : "The device gave no passkey: it was cancelled, took too long, or has none for this desk.";
    } finally {
      button.disabled = false;
    }
  });
}

for (const line of document.querySelectorAll("[data-no-passkeys]")) {
  line.hidden = Boolean(able);
}

// Written out, not left to toJSON: some password managers put an object in its place that has none.
function plain(credential) {
  const answer = credential.response;
  return {
    id: credential.id,
    rawId: text(credential.rawId),
    type: credential.type,
    authenticatorAttachment: credential.authenticatorAttachment ?? undefined,
    clientExtensionResults: credential.getClientExtensionResults?.() ?? {},
    response: {
      clientDataJSON: text(answer.clientDataJSON),
      attestationObject: text(answer.attestationObject),
      transports: answer.getTransports?.(),
      authenticatorData: text(answer.authenticatorData),
      signature: text(answer.signature),
      userHandle: text(answer.userHandle),
    },
  };
}

function text(bytes) {
  return bytes ? btoa(String.fromCharCode(...new Uint8Array(bytes))).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "") : undefined;
}
