// Put into a page before it loads: notes every message at the socket and times one edit, from the change to the frame that shows its numbers.
export const probe = () => {
  const sent = [];
  const got = [];
  globalThis.socket = { sent, got };
  globalThis.WebSocket = class extends WebSocket {
    constructor(...how) {
      super(...how);
      this.addEventListener('message', e => got.push({ at: performance.now(), bytes: e.data.byteLength ?? e.data.length }));
    }

    send(data) {
      sent.push(performance.now());
      super.send(data);
    }
  };

  // One edit: from just before the event to just after the frame in which the numbers of its revision stand.
  globalThis.edit = async change => {
    const strip = () => document.querySelector('.headlines').dataset.revision;
    const before = strip();
    const shown = new Promise(resolve => {
      const look = new MutationObserver(() => {
        if (strip() === before) {
          return;
        }

        look.disconnect();
        const batch = got.at(-1);
        requestAnimationFrame(() => {
          const after = new MessageChannel();
          after.port1.onmessage = () => resolve({ batch, painted: performance.now() });
          after.port2.postMessage(0);
        });
      });
      look.observe(document.querySelector('.pane-drawing'), { subtree: true, childList: true, attributes: true, attributeFilter: ['data-revision'] });
    });
    const start = performance.now();
    change();
    const late = new Promise((_, refuse) => { setTimeout(() => refuse(new Error('No new numbers within ten seconds.')), 10_000); });
    const { batch, painted } = await Promise.race([shown, late]);
    const left = sent.find(at => at >= start);
    return { total: painted - start, server: batch.at - left, paint: painted - batch.at, before: left - start, bytes: batch.bytes };
  };
};

/** Signs the demo's consultant in. */
export async function signIn(page, address) {
  await page.goto(address + '/sign-in');
  await page.getByLabel('E-mail').fill('robin@fernhollow.example.org');
  await page.getByLabel('Password').fill('kettle-on-fernhollow');
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByRole('region', { name: 'Vans' }).getByRole('link').first().waitFor();
}

/** Copies the open option of a van to one of this name and waits for its numbers. */
export async function copyTo(page, name) {
  await page.locator('summary').filter({ hasText: 'Option ' }).first().click();
  await page.getByRole('button', { name: 'Copy to a new option…' }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByRole('textbox').fill(name);
  await dialog.getByRole('button').last().click();
  await page.getByRole('navigation', { name: 'Options of this van' }).locator('[aria-current=page]').filter({ hasText: name }).waitFor();
  await page.locator('.headlines[data-revision]').waitFor();
}

/** The value a share of all values lies at or under. */
export const at = (values, share) => [...values].sort((a, b) => a - b)[Math.min(values.length - 1, Math.ceil(share * values.length) - 1)];
